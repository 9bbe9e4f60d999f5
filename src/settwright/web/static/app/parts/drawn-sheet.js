// A drawing that the server made whole (the layout on the cloth), to be moved and made larger.

import { LookableSvg } from "./lookable-svg.js";

export class DrawnSheet extends LookableSvg {
  #drawing = "";

  /** @param {string} drawing an SVG document */
  set drawing(drawing) {
    if (drawing === this.#drawing) return;
    this.#drawing = drawing;
    const parsed = new DOMParser().parseFromString(drawing, "image/svg+xml").documentElement;
    if (!(parsed instanceof SVGSVGElement)) return;
    this.replaceChildren(document.adoptNode(parsed));
    const [left = 0, top = 0, width = 100, height = 100] = (parsed.getAttribute("viewBox") ?? "")
      .split(/[\s,]+/)
      .map(Number);
    this.box = [left, top, left + width, top + height];
    parsed.removeAttribute("viewBox");
    const group = document.createElementNS("http://www.w3.org/2000/svg", "g");
    group.append(...parsed.childNodes);
    parsed.append(group);
    parsed.setAttribute("width", "100%");
    parsed.setAttribute("height", "100%");
    parsed.setAttribute("role", "img");
    parsed.setAttribute("aria-label", "Pieces on the cloth, as they are cut");
    this.group = group;
    this.isWhole = true;
    this.whole();
  }

  /** @returns {[number, number, number, number] | null} */
  extent() {
    return /** @type {[number, number, number, number] | null} */ (this.box ?? null);
  }

  show() {
    if (this.looking) this.group?.setAttribute("transform", String(this.looking));
  }
}

customElements.define("drawn-sheet", DrawnSheet);
