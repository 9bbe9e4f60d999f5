// The cloth as it lies on the table, right side up, the pieces on it where they are cut; its length runs down the
// drawing from the squared end at the foot. Titles keep a readable size however near one looks.

import { nothing, render, svg, html } from "../../vendor/lit-html.js";
import { tile } from "../weave.js";
import { LookableSvg } from "./lookable-svg.js";

/**
 * @typedef {object} Layout  mm of cloth, y from the cut end upwards
 * @property {number} width
 * @property {number} height
 * @property {Record<string, [number, number][]>} pieces
 * @property {[number, number]} sett  where the sett's origin lies
 * @property {[number, number][][]} faults
 *
 * @typedef {object} Showing
 * @property {Layout} layout
 * @property {import("../types.js").ClothSaid} cloth
 * @property {Record<string, import("../types.js").PieceSaid>} pieces
 * @property {string} units
 */

const MARGIN = 90;

export class LaidCloth extends LookableSvg {
  /** @type {Showing | null} */
  #showing = null;

  /** @param {Showing} showing */
  set showing(showing) {
    const isOther = showing.layout !== this.#showing?.layout;
    this.#showing = showing;
    if (!isOther) return;
    this.#draw(showing);
    this.whole();
  }

  /** @returns {[number, number, number, number] | null} */
  extent() {
    const layout = this.#showing?.layout;
    return layout ? [-MARGIN, -MARGIN / 2, layout.width + MARGIN / 2, layout.height + 1.6 * MARGIN] : null;
  }

  show() {
    if (!this.looking) return;
    this.querySelector("svg > g")?.setAttribute("transform", String(this.looking));
    const zoom = this.looking.zoom;
    for (const text of /** @type {NodeListOf<SVGTextElement>} */ (this.querySelectorAll("text"))) {
      const room = Number(text.dataset["room"] ?? Infinity) / (0.46 * (text.textContent?.length ?? 1));
      const least = text.dataset["least"] ? Number(text.dataset["least"]) / zoom : 9;
      text.style.fontSize = `${Math.min(12.5 / zoom, Math.max(room, least))}px`;
    }
  }

  /** @param {Showing} showing */
  #draw({ layout, cloth, pieces, units }) {
    const { width, height, sett } = layout;
    /** Returns a ring as the drawing has it, y downwards. @param {[number, number][]} ring @returns {[number, number][]} */
    const down = (ring) => ring.map(([x, y]) => [x, height - y]);
    const step = units === "inches" ? 25.4 * 9 : 250; // a quarter of a yard, or of a metre
    const ticks = Array.from({ length: Math.floor(height / step) + 1 }, (_, index) => index);
    render(
      html`<svg class="board laid" width="100%" height="100%" role="group" aria-label="The pieces on ${cloth.title}">
        <defs>
          <pattern id="laid-cloth" patternUnits="userSpaceOnUse" width=${cloth.warp.repeat} height=${cloth.weft.repeat}
            patternTransform="translate(${sett[0]} ${height - sett[1]}) scale(1 -1)">
            ${tile(cloth).map(([x, y, w, h, colour]) => svg`<rect x=${x} y=${y} width=${w} height=${h} fill=${colour} />`)}
          </pattern>
        </defs>
        <g>
          <rect class="whole-cloth" x="0" y="0" width=${width} height=${height} fill="url(#laid-cloth)" />
          ${ticks.map(
            (index) => svg`<path class="tick-mark" d="M-4 ${height - index * step}h-14" />
              <text x="-22" y=${height - index * step} text-anchor="end" dominant-baseline="middle" data-room="80" data-least="9">${
                units === "inches" ? `${index / 4 || 0} yd` : `${index / 4} m`
              }</text>`,
          )}
          ${Object.entries(layout.pieces).map(([name, told]) => {
            const ring = down(told);
            const d = `M${ring.map((at) => at.join(" ")).join("L")}Z`;
            const xs = ring.map(([x]) => x);
            const ys = ring.map(([, y]) => y);
            const [left, right] = [Math.min(...xs), Math.max(...xs)];
            const [top, foot] = [Math.min(...ys), Math.max(...ys)];
            const isCut = pieces[name]?.is_cut ?? false;
            const title = `${pieces[name]?.title ?? name}${isCut ? " · cut" : ""}`;
            const isTall = foot - top > 1.2 * (right - left);
            const [x, y] = [(left + right) / 2, (top + foot) / 2];
            return svg`<g class="flat ${isCut ? "is-cut" : ""}" role="img" aria-label=${title}>
              <title>${title}</title>
              <path class="cutting" d=${d} fill="url(#laid-cloth)" />
              <text class="on-cloth" x=${x} y=${y} text-anchor="middle" dominant-baseline="middle"
                data-room=${isTall ? foot - top : right - left} transform=${isTall ? `rotate(-90 ${x} ${y})` : nothing}>${title}</text>
            </g>`;
          })}
          ${(layout.faults ?? []).map(
            (ring) => svg`<path class="cloth-fault" role="img" aria-label="A fault" d="M${down(ring).map((at) => at.join(" ")).join("L")}Z" />`,
          )}
          <path class="squared-end" d="M0 ${height}H${width}" />
        </g>
      </svg>`,
      this,
    );
  }
}

customElements.define("laid-cloth", LaidCloth);
