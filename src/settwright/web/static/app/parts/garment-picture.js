// The garment from one side with its cloth: bars on a canvas, drawn from the map itself so that they bend as the
// garment does, and over it an SVG with what can be touched and spoken: pieces, and chalk marks where bars miss.

import { html, nothing, render, repeat, svg } from "../../vendor/lit-html.js";
import { Raster } from "../raster.js";
import { figures } from "../weave.js";
import { small } from "../words.js";
import { Looking, makeLookable } from "./looking.js";

/** @typedef {import("../types.js").Picture} Picture */
/** @typedef {import("../types.js").Patch} Patch */
/** @typedef {import("../types.js").PhaseSaid} PhaseSaid */
/** @typedef {"upright" | "level"} Axis */

/**
 * @typedef {object} Showing
 * @property {Picture} picture
 * @property {import("../types.js").Report} report
 * @property {Record<string, PhaseSaid>} phases
 * @property {readonly import("../types.js").Seam[]} seams
 * @property {"cm" | "inches"} units
 * @property {boolean} chalk
 * @property {string | null} lit  a seam to be pointed out
 * @property {boolean} slides  one pointer slides the cloth; else it moves the picture
 * @property {string} label
 * @property {(piece: string, axis: Axis) => boolean} canSlide
 *
 * @typedef {{piece: string, axis: Axis, by: number, reach: number}} SlideDetail
 * @typedef {{name: string, outline: string, patches: Patch[]}} SeenPiece  a piece as it is seen at one depth
 */

const MARGIN = 28;

/** The inks of a picture; on dark cloth lines are blacker, buttons light. */
const INKS = {
  dark: { line: "#0b0a09", button: "#93826a", lining: "#d9d2c5" },
  light: { line: "#251f18", button: "#4a4239", lining: "#d9d2c5" },
};

export class GarmentPicture extends HTMLElement {
  #cloth = document.createElement("canvas");
  #ink = document.createElement("canvas");
  #over = document.createElement("div");
  /** @type {Showing | null} */
  #showing = null;
  /** @type {Looking | null} */
  #look = null;
  #isWhole = true;
  #frame = 0;
  #watch = new ResizeObserver(() => this.#resized());
  /** @type {{raster: Raster, picture: Picture, ground: string} | null} */
  #drawn = null;
  #isOnlySliding = false;
  /** @type {{zoom: (by: number) => void} | null} */
  #ways = null;

  connectedCallback() {
    if (!this.#cloth.isConnected) {
      this.#cloth.className = "cloth";
      this.#ink.className = "ink";
      this.#over.className = "over";
      this.append(this.#cloth, this.#ink, this.#over);
      this.#ways = makeLookable(this, {
        look: () => this.#look ?? new Looking(0, 0, 1),
        changed: (look) => this.#looks(look),
        whole: () => this.whole(),
        grip: (event) => this.#grip(event),
      });
    }
    this.#watch.observe(this);
  }

  disconnectedCallback() {
    this.#watch.disconnect();
    cancelAnimationFrame(this.#frame);
  }

  /** @param {Showing} showing */
  set showing(showing) {
    const isOther = this.#showing?.picture.view !== showing.picture.view;
    this.#showing = showing;
    if (isOther || !this.#look || this.#isWhole) this.whole();
    else this.#soon();
  }

  /** Shows other places in the repeat, and nothing else anew. @param {Record<string, PhaseSaid>} phases */
  set phases(phases) {
    if (!this.#showing) return;
    const isOnly = this.#frame === 0 || this.#isOnlySliding;
    this.#showing = { ...this.#showing, phases };
    this.#soon();
    this.#isOnlySliding = isOnly;
  }

  /** Looks as another picture does. @param {Looking | null} look */
  set look(look) {
    if (!look || look === this.#look) return;
    this.#look = look;
    this.#isWhole = false;
    this.#soon();
  }

  whole() {
    const box = this.#showing?.picture.box;
    if (!box || !this.clientWidth) return;
    this.#isWhole = true;
    this.#look = Looking.whole(
      [box[0], box[1], box[0] + box[2], box[1] + box[3]],
      this.clientWidth,
      this.clientHeight,
      MARGIN,
    );
    this.#soon();
  }

  /** @param {number} by */
  zoom(by) {
    this.#ways?.zoom(by);
  }

  /** @param {Looking} look */
  #looks(look) {
    this.#look = look;
    this.#isWhole = false;
    this.#soon();
    this.dispatchEvent(new CustomEvent("looked", { detail: look }));
  }

  #resized() {
    if (this.#isWhole) this.whole();
    else this.#soon();
  }

  #soon() {
    this.#isOnlySliding = false;
    this.#frame ||= requestAnimationFrame(() => {
      this.#frame = 0;
      this.#paint();
      if (!this.#isOnlySliding) this.#touchables();
    });
  }

  #paint() {
    const showing = this.#showing;
    const look = this.#look;
    if (!showing || !look) return;
    const { picture, report, phases } = showing;
    const fine = Math.min(2, devicePixelRatio || 1);
    const zoom = fine * look.zoom;
    const [x, y] = [Math.round(fine * look.x), Math.round(fine * look.y)];
    const ground = Object.values(report.cloths)[0]?.colour ?? "#888888";
    const [left, top] = [Math.floor(picture.box[0] * zoom), Math.floor(picture.box[1] * zoom)];
    const whole = { left, top, width: Math.ceil(picture.box[2] * zoom), height: Math.ceil(picture.box[3] * zoom) };
    const [width, height] = [Math.ceil(fine * this.clientWidth), Math.ceil(fine * this.clientHeight)];
    const window = { left: -x, top: -y, width, height };
    const drawn = this.#drawn;
    let raster = drawn?.raster;
    if (!raster || raster.zoom !== zoom || drawn?.picture !== picture || drawn.ground !== ground ||
        !covers(raster.area, common(whole, window))) {
      const inks = isDark(ground) ? INKS.dark : INKS.light;
      raster = new Raster(picture, zoom, common(whole, wider(window)), inks.lining);
      this.#drawn = { raster, picture, ground };
      for (const canvas of [this.#cloth, this.#ink]) {
        canvas.width = raster.image.width;
        canvas.height = raster.image.height;
        canvas.style.width = `${canvas.width / fine}px`;
        canvas.style.height = `${canvas.height / fine}px`;
      }
      this.#lines(picture, raster, 1 / look.zoom, inks);
    }
    const { area } = raster;
    const changed = raster.dye(report.cloths, report.pieces, phases);
    if (changed) {
      const pen = /** @type {CanvasRenderingContext2D} */ (this.#cloth.getContext("2d"));
      pen.putImageData(raster.image, 0, 0, changed.left, changed.top, changed.width, changed.height);
    }
    const moved = `translate(${(area.left + x) / fine}px, ${(area.top + y) / fine}px)`;
    this.#cloth.style.transform = moved;
    this.#ink.style.transform = moved;
  }

  /** Draws lines and buttons, each hidden by what lies before it. @param {Picture} picture @param {Raster} raster
   * @param {number} hair @param {{line: string, button: string}} inks */
  #lines(picture, { area, zoom }, hair, inks) {
    const pen = /** @type {CanvasRenderingContext2D} */ (this.#ink.getContext("2d"));
    pen.setTransform(zoom, 0, 0, zoom, -area.left, -area.top);
    pen.lineJoin = "round";
    pen.lineCap = "round";
    for (const layer of picture.layers) {
      pen.globalCompositeOperation = "destination-out";
      for (const shape of [...layer.grounds, ...layer.patches.map(({ outline }) => outline)]) pen.fill(new Path2D(shape));
      pen.globalCompositeOperation = "source-over";
      pen.strokeStyle = inks.line;
      pen.lineWidth = 1.1 * hair;
      for (const line of [...layer.outlines, ...layer.lines]) pen.stroke(new Path2D(line));
      for (const [x, y, radius] of layer.buttons) this.#button(pen, x, y, radius, hair, inks);
    }
  }

  /** @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} radius
   * @param {number} hair @param {{line: string, button: string}} inks */
  #button(pen, x, y, radius, hair, inks) {
    pen.fillStyle = inks.button;
    pen.lineWidth = 1.2 * hair;
    pen.beginPath();
    pen.arc(x, y, radius, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
    pen.beginPath();
    pen.arc(x, y, radius * 0.72, 0, 2 * Math.PI);
    pen.stroke();
    pen.fillStyle = inks.line;
    for (const [dx, dy] of [[1, 1], [-1, 1], [-1, -1], [1, -1]]) {
      pen.beginPath();
      pen.arc(x + (dx ?? 0) * radius * 0.2, y + (dy ?? 0) * radius * 0.2, radius * 0.09, 0, 2 * Math.PI);
      pen.fill();
    }
  }

  /** Draws what can be touched: each piece as one at every depth where it is seen, and the chalk marks. */
  #touchables() {
    const showing = this.#showing;
    const look = this.#look;
    if (!showing || !look) return;
    const { picture, report, label } = showing;
    const pieces = picture.layers.flatMap(({ patches, outlines }, depth) =>
      [...new Set(patches.map(({ piece }) => piece))].map((name, index) => ({
        name,
        outline: outlines[index] ?? "",
        patches: patches.filter(({ piece }) => piece === name),
        key: `${depth}-${index}`,
      })),
    );
    const first = new Set();
    render(
      html`<svg width=${this.clientWidth} height=${this.clientHeight} role="group" aria-label=${label}>
        <g transform=${String(look)}>
          ${repeat(
            pieces,
            ({ key }) => key,
            (seen) => {
              const isFirst = !first.has(seen.name);
              first.add(seen.name);
              return this.#touchable(seen, isFirst, report);
            },
          )}
        </g>
        ${showing.chalk ? this.#chalk(showing, look) : nothing}
      </svg>`,
      this.#over,
    );
  }

  /** @param {SeenPiece} seen @param {boolean} isFirst @param {import("../types.js").Report} report */
  #touchable({ name, outline, patches }, isFirst, report) {
    const piece = report.pieces[name];
    const slides = this.#showing?.canSlide(name, "upright") || this.#showing?.canSlide(name, "level");
    const largest = patches.reduce((one, other) => (other.grid.places.length > one.grid.places.length ? other : one));
    return svg`<path d=${outline} class="touch ${slides ? "slides" : ""}" data-piece=${name}
      tabindex=${isFirst && slides ? 0 : nothing} role=${isFirst && slides ? "button" : nothing}
      aria-roledescription=${isFirst && slides ? "cloth on a piece" : nothing}
      aria-hidden=${isFirst && slides ? nothing : "true"}
      aria-label=${isFirst && slides ? `${piece?.title ?? name}${piece?.is_cut ? ", cut already" : ""}. Arrow keys slide the cloth` : nothing}
      @keydown=${(/** @type {KeyboardEvent} */ event) => this.#keyed(event, largest)}
      @blur=${() => this.dispatchEvent(new CustomEvent("slide-end"))}
      @pointerenter=${() => this.#pointsAt(name)}
      @pointerleave=${() => this.#pointsAt(null)}></path>`;
  }

  /** Marks a piece wherever it is seen, as one. @param {string | null} piece */
  #pointsAt(piece) {
    for (const path of this.#over.querySelectorAll("path.touch")) {
      path.toggleAttribute("data-over", path.getAttribute("data-piece") === piece);
    }
    this.dispatchEvent(new CustomEvent("over", { detail: piece }));
  }

  /** @param {Showing} showing @param {Looking} look */
  #chalk(showing, look) {
    const marks = [];
    for (const seam of showing.seams) {
      const isLit = seam.join === showing.lit;
      const miss = chalked(seam);
      if (miss === null && !isLit) continue;
      const samples = showing.picture.seams[seam.join];
      const at = samples?.[seam.at] ?? (isLit ? samples?.find((place) => place) : null);
      if (!at) continue;
      const [x, y] = [look.x + look.zoom * at[0], look.y + look.zoom * at[1]];
      marks.push({ seam, x, y, isLit, says: miss === null ? "meets" : small(miss, showing.units) });
    }
    /** @type {{left: number, width: number, y: number}[]} */
    const taken = []; // by tags that stand already
    return repeat(
      marks,
      ({ seam }) => seam.join,
      ({ seam, x, y, isLit, says }) => {
        const outwards = at(x, this.clientWidth / 2);
        const width = says.length * 7.2 + 12;
        const left = outwards > 0 ? 12 : -12 - width;
        let dy = 0;
        while (
          taken.some(
            (other) =>
              Math.abs(other.y - y - dy) < 26 && other.left < x + left + width + 4 && x + left < other.left + other.width + 4,
          )
        )
          dy += 26;
        taken.push({ left: x + left, width, y: y + dy });
        return svg`<g class="chalk ${isLit ? "lit" : ""}" transform="translate(${x} ${y})" role="button" tabindex="0"
          aria-label="${seam.title}, ${says}: ${seam.said}"
          @click=${() => this.#seam(seam.join)}
          @keydown=${(/** @type {KeyboardEvent} */ event) => {
            if (event.key === "Enter" || event.key === " ") {
              event.preventDefault();
              this.#seam(seam.join);
            }
          }}>
          <title>${seam.title}: ${seam.said}</title>
          <path class="halo" d="M-9 1.5Q-3-2 9-1" /><path class="stroke" d="M-9 1.5Q-3-2 9-1" />
          ${dy ? svg`<path class="leader" d="M${outwards * 9} 0L${outwards * 14} ${dy}" />` : nothing}
          <rect x=${left} y=${dy - 12} width=${width} height="24" rx="4" />
          <text x=${left + width / 2} y=${dy + 4.8} text-anchor="middle">${says}</text>
        </g>`;
      },
    );
  }

  /** @param {string} join */
  #seam(join) {
    this.dispatchEvent(new CustomEvent("seam", { detail: join }));
  }

  /** Returns a piece's patch under a pointer, the nearest to the looker. @param {string} piece @param {PointerEvent} event */
  #patchAt(piece, event) {
    const { left, top } = this.getBoundingClientRect();
    const look = this.#look;
    const patches = this.#showing?.picture.layers.flatMap((layer) => layer.patches).filter((one) => one.piece === piece) ?? [];
    if (!look) return null;
    const [x, y] = look.back([event.clientX - left, event.clientY - top]);
    const pen = /** @type {CanvasRenderingContext2D} */ (this.#ink.getContext("2d"));
    pen.setTransform(1, 0, 0, 1, 0, 0);
    const under = patches.findLast(({ outline }) => pen.isPointInPath(new Path2D(outline), x, y));
    return under ?? patches.at(-1) ?? null;
  }

  /** @param {PointerEvent} event */
  #grip(event) {
    const showing = this.#showing;
    const target = /** @type {Element} */ (event.target);
    const piece = target instanceof SVGElement ? target.getAttribute("data-piece") : null;
    if (!showing?.slides || !piece || !this.#look) return null;
    const { left, top } = this.getBoundingClientRect();
    const [x, y] = this.#look.back([event.clientX - left, event.clientY - top]);
    const patch = this.#patchAt(piece, event);
    if (!patch) return null;
    if (!showing.canSlide(piece, "upright") && !showing.canSlide(piece, "level")) return null;
    const turn = turning(patch.grid, x, y);
    const zoom = this.#look.zoom;
    /** @type {Axis | null} */
    let axis = null;
    let spare = 0;
    return {
      move: (/** @type {number} */ dx, /** @type {number} */ dy) => {
        const across = (turn[0] * dx + turn[1] * dy) / zoom;
        const along = (turn[2] * dx + turn[3] * dy) / zoom;
        if (axis === null) {
          if (Math.hypot(dx, dy) < 6) return;
          axis = Math.abs(across) >= Math.abs(along) ? "upright" : "level";
          if (!showing.canSlide(piece, axis)) axis = axis === "upright" ? "level" : "upright";
          if (!showing.canSlide(piece, axis)) return;
          spare = axis === "upright" ? across : along;
          this.#tell("slide-start", { piece, axis, by: 0, reach: 0 });
        }
        const by = -((axis === "upright" ? across : along) - spare);
        this.#tell("slide", { piece, axis, by, reach: Math.min(2.5, 5 / zoom) });
      },
      end: () => axis && this.dispatchEvent(new CustomEvent("slide-end")),
      cancel: () => axis && this.dispatchEvent(new CustomEvent("slide-cancel")),
    };
  }

  /** @param {string} name @param {SlideDetail} detail */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  /** Arrow keys slide to the next bar; with Shift by a millimetre. @param {KeyboardEvent} event @param {Patch} patch */
  #keyed(event, patch) {
    const way = /** @type {Record<string, [number, number]>} */ ({
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, -1],
      ArrowDown: [0, 1],
    })[event.key];
    if (event.key === "Escape") this.dispatchEvent(new CustomEvent("slide-cancel"));
    else if (event.key === "Enter") this.dispatchEvent(new CustomEvent("slide-end"));
    else if (event.key === "p" || event.key === "P") {
      this.dispatchEvent(new CustomEvent("pin", { detail: patch.piece }));
    } else if (way && !event.ctrlKey && !event.altKey) {
      const { grid } = patch;
      const [x, y] = middle(grid);
      const turn = turning(grid, x, y);
      const across = turn[0] * way[0] + turn[1] * way[1];
      const along = turn[2] * way[0] + turn[3] * way[1];
      const axis = Math.abs(across) >= Math.abs(along) ? "upright" : "level";
      const sign = -Math.sign(axis === "upright" ? across : along);
      this.dispatchEvent(
        new CustomEvent("nudge", { detail: { piece: patch.piece, axis, sign, fine: event.shiftKey } }),
      );
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }
}

/** Whether a colour is dark, by the light that the eye sees in it. @param {string} hex */
function isDark(hex) {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((k) => (parseInt(hex.slice(k, k + 2), 16) / 255) ** 2.2);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b < 0.17;
}

/** Returns what two areas have in common. @param {import("../raster.js").Area} a @param {import("../raster.js").Area} b
 * @returns {import("../raster.js").Area} */
function common(a, b) {
  const [left, top] = [Math.max(a.left, b.left), Math.max(a.top, b.top)];
  return {
    left,
    top,
    width: Math.max(0, Math.min(a.left + a.width, b.left + b.width) - left),
    height: Math.max(0, Math.min(a.top + a.height, b.top + b.height) - top),
  };
}

/** @param {import("../raster.js").Area} area @param {import("../raster.js").Area} part */
function covers(area, part) {
  const own = common(area, part);
  return own.width === part.width && own.height === part.height;
}

/** Returns an area with a quarter more on each side. @param {import("../raster.js").Area} area */
function wider({ left, top, width, height }) {
  const [dx, dy] = [Math.ceil(width / 4), Math.ceil(height / 4)];
  return { left: left - dx, top: top - dy, width: width + 2 * dx, height: height + 2 * dy };
}

/** Returns a place of the figure amid what a grid shows. @param {import("../weave.js").Grid} grid
 * @returns {[number, number]} */
function middle(grid) {
  const seen = figures(grid).filter((place) => !Number.isNaN(place));
  const half = 2 * Math.floor(seen.length / 4);
  return [seen[half] ?? 0, seen[half + 1] ?? 0];
}

/** Returns the miss that is worth a chalk mark, mm, or null: level bars, and upright ones where they must always
 * meet; along a slanting seam upright bars can meet at one height only. @param {import("../types.js").Seam} seam */
function chalked(seam) {
  if (!seam.misses) return null;
  if ((seam.level ?? 0) > 1) return seam.level;
  return seam.importance === "always" && (seam.upright ?? 0) > 1 ? seam.upright : null;
}

/** @param {number} x @param {number} middle */
function at(x, middle) {
  return x >= middle ? 1 : -1;
}

/** Returns the matrix (row by row) that brings a small way on the figure on to the grid's own directions, near a
 * place of the figure. @param {import("../weave.js").Grid} grid @param {number} x @param {number} y
 * @returns {[number, number, number, number]} */
function turning(grid, x, y) {
  const places = figures(grid);
  let near = 0;
  let least = Infinity;
  for (let k = 0; k < grid.nx * grid.ny; k++) {
    const off = (Number(places[2 * k]) - x) ** 2 + (Number(places[2 * k + 1]) - y) ** 2;
    if (off < least) {
      least = off;
      near = k;
    }
  }
  const i = Math.min(grid.nx - 2, Math.max(1, near % grid.nx));
  const j = Math.min(grid.ny - 2, Math.max(1, Math.floor(near / grid.nx)));
  /** @param {number} a @param {number} b @param {0 | 1} k */
  const place = (a, b, k) => Number(places[2 * (b * grid.nx + a) + k]);
  const size = 2 * grid.step;
  const xx = (place(i + 1, j, 0) - place(i - 1, j, 0)) / size;
  const yx = (place(i + 1, j, 1) - place(i - 1, j, 1)) / size;
  const xy = (place(i, j + 1, 0) - place(i, j - 1, 0)) / size;
  const yy = (place(i, j + 1, 1) - place(i, j - 1, 1)) / size;
  const area = xx * yy - xy * yx;
  if (!(Math.abs(area) > 1e-3)) return [1, 0, 0, -1];
  return [yy / area, -xy / area, -yx / area, xx / area];
}

customElements.define("garment-picture", GarmentPicture);
