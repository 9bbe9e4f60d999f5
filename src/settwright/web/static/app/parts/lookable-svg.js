// A drawing in a box that can be moved and made larger: what the boards of pieces and the layout share.

import { Looking, makeLookable } from "./looking.js";

export class LookableSvg extends HTMLElement {
  /** @type {Looking | null} */
  looking = null;
  /** @type {boolean} */
  isWhole = true;
  #watch = new ResizeObserver(() => {
    if (this.isWhole) this.whole();
    else this.show();
  });
  /** @type {{zoom: (by: number) => void} | null} */
  #ways = null;

  connectedCallback() {
    this.#ways ??= makeLookable(this, {
      look: () => this.looking ?? new Looking(0, 0, 1),
      changed: (look) => {
        this.looking = look;
        this.isWhole = false;
        this.show();
      },
      whole: () => this.whole(),
    });
    this.#watch.observe(this);
  }

  disconnectedCallback() {
    this.#watch.disconnect();
  }

  /** Returns what there is to be seen: left, top, right, bottom. @returns {[number, number, number, number] | null} */
  extent() {
    return null;
  }

  whole() {
    const extent = this.extent();
    if (!extent || !this.clientWidth) return;
    this.isWhole = true;
    this.looking = Looking.whole(extent, this.clientWidth, this.clientHeight, 20);
    this.show();
  }

  /** @param {number} by */
  zoom(by) {
    this.#ways?.zoom(by);
  }

  /** Draws anew with the look as it is. */
  show() {}
}
