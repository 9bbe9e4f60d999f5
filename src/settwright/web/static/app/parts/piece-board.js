// Every piece, flat, at one scale with its cloth: an SVG pattern for each, moved by nothing but its transform.

import { html, nothing, render, repeat, svg } from "../../vendor/lit-html.js";
import { tile } from "../weave.js";
import { LookableSvg } from "./lookable-svg.js";

/** @typedef {import("../types.js").FlatPiece} FlatPiece */
/** @typedef {{pieces: FlatPiece[], report: import("../types.js").Report,
 *   phases: Record<string, import("../types.js").PhaseSaid>}} Showing */
/** @typedef {FlatPiece & {x: number, y: number}} Laid */

const GAP = 45;
const TITLE = 34;

export class PieceBoard extends LookableSvg {
  /** @type {Showing | null} */
  #showing = null;
  /** @type {Laid[]} */
  #laid = [];
  #drawn = false;

  /** @param {Showing} showing */
  set showing(showing) {
    const isOther = showing.pieces !== this.#showing?.pieces;
    this.#showing = showing;
    if (isOther) {
      this.#laid = shelved(showing.pieces);
      this.whole();
    }
    this.#drawn = false;
    this.show();
  }

  /** @returns {[number, number, number, number] | null} */
  extent() {
    if (!this.#laid.length) return null;
    return [
      Math.min(...this.#laid.map((one) => one.x + one.box[0])) - 10,
      Math.min(...this.#laid.map((one) => one.y + one.box[1])) - TITLE,
      Math.max(...this.#laid.map((one) => one.x + one.box[0] + one.box[2])) + 10,
      Math.max(...this.#laid.map((one) => one.y + one.box[1] + one.box[3])) + 10,
    ];
  }

  show() {
    if (!this.#showing || !this.looking) return;
    if (!this.#drawn) {
      this.#drawn = true;
      this.#draw(this.#showing);
    }
    this.querySelector("svg > g")?.setAttribute("transform", String(this.looking));
    const zoom = this.looking.zoom;
    for (const title of /** @type {NodeListOf<SVGTextElement>} */ (this.querySelectorAll(".piece-title"))) {
      const room = Number(title.dataset["room"]) / (0.46 * (title.textContent?.length ?? 1));
      title.style.fontSize = `${Math.max(13 / zoom > room ? room : 13 / zoom, 11)}px`;
    }
  }

  /** @param {Showing} showing */
  #draw({ report, phases }) {
    render(
      html`<svg class="board" role="group" aria-label="Pieces" width="100%" height="100%">
        <defs>
          ${Object.entries(report.cloths).map(
            ([name, cloth]) => svg`<pattern id="tile-${name}" patternUnits="userSpaceOnUse" width=${cloth.warp.repeat} height=${cloth.weft.repeat}>
              ${tile(cloth).map(([x, y, width, height, colour]) => svg`<rect x=${x} y=${y} width=${width} height=${height} fill=${colour} />`)}
            </pattern>`,
          )}
          ${this.#laid.map((piece) => {
            const phase = phases[piece.name];
            if (!phase || (phase[2] && phase[3])) return nothing;
            return svg`<pattern id="cloth-${piece.name}" href="#tile-${piece.cloth}"
              patternTransform="matrix(${piece.matrix.join(" ")}) translate(${-phase[0]} ${-phase[1]})"></pattern>`;
          })}
        </defs>
        <g>
          ${repeat(
            this.#laid,
            (piece) => piece.name,
            (piece) => this.#piece(piece, report, phases),
          )}
        </g>
      </svg>`,
      this,
    );
  }

  /** @param {Laid} piece @param {import("../types.js").Report} report
   * @param {Record<string, import("../types.js").PhaseSaid>} phases */
  #piece(piece, report, phases) {
    const phase = phases[piece.name];
    const isFree = !phase || (phase[2] && phase[3]);
    const fill = isFree ? (report.cloths[piece.cloth]?.colour ?? "#bbb") : `url(#cloth-${piece.name})`;
    const [left, top, width] = piece.box;
    const [[x1, y1], [x2, y2]] = piece.grain;
    return svg`<g class="flat ${piece.is_cut ? "is-cut" : ""}" transform="translate(${piece.x} ${piece.y})" role="img"
      aria-label="${piece.title}${piece.is_cut ? ", cut already" : ""}${isFree ? ", lies anywhere" : ""}">
      <title>${piece.title}</title>
      <path class="cutting" d=${piece.cutting} fill=${fill} />
      <path class="seam-halo" d=${piece.seam} /><path class="seam-line" d=${piece.seam} />
      ${piece.lines.map((line) => svg`<path class="inner-halo" d=${line.path} /><path class="inner ${line.kind}" d=${line.path} />`)}
      ${piece.notches.map(([x, y, dx, dy]) => svg`<path class="notch" d="M${x} ${y}l${dx} ${dy}" />`)}
      <path class="grain-halo" d="M${x1} ${y1}L${x2} ${y2}" /><path class="grain" d="M${x1} ${y1}L${x2} ${y2}" />
      <text class="piece-title" data-room=${width + GAP * 0.6} x=${left + width / 2} y=${top - 9} text-anchor="middle">${piece.title}${piece.is_cut ? " · cut" : ""}</text>
    </g>`;
  }
}

/** Returns pieces laid in rows, each row's feet on one line, rows about as long as the whole is high.
 * @param {readonly FlatPiece[]} pieces @returns {Laid[]} */
export function shelved(pieces) {
  const area = pieces.reduce((sum, { box }) => sum + (box[2] + GAP) * (box[3] + GAP + TITLE), 0);
  const wide = Math.max(Math.sqrt(area * 1.9), ...pieces.map(({ box }) => box[2]));
  /** @type {FlatPiece[][]} */
  const rows = [];
  let length = Infinity;
  for (const piece of pieces) {
    if (length + piece.box[2] > wide) {
      rows.push([]);
      length = 0;
    }
    rows.at(-1)?.push(piece);
    length += piece.box[2] + GAP;
  }
  /** @type {Laid[]} */
  const laid = [];
  let y = 0;
  for (const row of rows) {
    const high = Math.max(...row.map(({ box }) => box[3]));
    let x = 0;
    for (const piece of row) {
      laid.push({ ...piece, x: x - piece.box[0], y: y + high - piece.box[1] - piece.box[3] });
      x += piece.box[2] + GAP;
    }
    y += high + GAP + TITLE;
  }
  return laid;
}

customElements.define("piece-board", PieceBoard);
