// The garment's cloth dot by dot. For one way of looking it is worked out once which patch is seen at each dot, and
// which place of its cloth; then cloth slides by reading each dot's colour from a table of the repeat.

import { figures, stretches } from "./weave.js";

/** @typedef {import("./types.js").Picture} Picture */
/** @typedef {import("./types.js").PhaseSaid} PhaseSaid */
/** @typedef {import("./weave.js").Sett & {colour: string}} Cloth */

/** @typedef {{left: number, top: number, width: number, height: number}} Area  dots of the zoomed picture, whole */

const FINE = 4; // bits of a table's step that are kept while places are added
const LEAST = 64;
const MOST = 2048; // steps of a table
const NOWHERE = -(2 ** 31);

/**
 * @typedef {object} Dots  of one patch
 * @property {string} piece
 * @property {Uint32Array} at  which dots
 * @property {Float32Array} x  their places of the cloth from the grain mark, mm; not a number where none is known
 * @property {Float32Array} y
 * @property {Int32Array} u  the same in steps of the table
 * @property {Int32Array} v
 * @property {Table | null} table  for which
 * @property {string} shown
 */

export class Raster {
  /** @param {Picture} picture @param {number} zoom  dots to the millimetre @param {Area} area @param {string} ground
   * the colour of plain grounds */
  constructor(picture, zoom, area, ground) {
    this.area = area;
    this.zoom = zoom;
    this.image = new ImageData(Math.max(1, area.width), Math.max(1, area.height));
    this.ink = new Uint32Array(this.image.data.buffer);
    const seen = new Uint16Array(this.ink.length); // number of the patch, 1 for a ground
    const patches = picture.layers.flatMap(({ patches }) => patches);
    let number = 1;
    for (const layer of picture.layers) {
      for (const path of layer.grounds) this.#fill(path, seen, 1);
      for (const patch of layer.patches) this.#fill(patch.outline, seen, ++number);
    }
    const paint = packed(ground);
    const counts = new Uint32Array(number + 1);
    for (let k = 0; k < seen.length; k++) {
      const of = /** @type {number} */ (seen[k]);
      counts[of]++;
      if (of === 1) this.ink[k] = paint;
    }
    /** @type {readonly Dots[]} */
    this.dots = patches.map((patch, index) => {
      const size = Number(counts[index + 2]);
      return { piece: patch.piece, at: new Uint32Array(size), x: new Float32Array(size), y: new Float32Array(size),
        u: new Int32Array(size), v: new Int32Array(size), table: null, shown: "" };
    }); // prettier-ignore
    const next = new Uint32Array(number + 1);
    const order = new Uint32Array(seen.length); // of a dot within its patch
    for (let k = 0; k < seen.length; k++) {
      const of = /** @type {number} */ (seen[k]);
      if (of < 2) continue;
      const place = /** @type {number} */ (next[of]++);
      order[k] = place;
      /** @type {Dots} */ (this.dots[of - 2]).at[place] = k;
    }
    patches.forEach((patch, index) => this.#place(patch.grid, /** @type {Dots} */ (this.dots[index]), index + 2, seen, order));
  }

  /** Writes a number on every dot inside rings of straight lines, those inside two rings left out.
   * @param {string} path @param {Uint16Array} on @param {number} number */
  #fill(path, on, number) {
    const { left, top, width, height } = this.area;
    /** @type {number[][]} */
    const crossings = [];
    for (const ring of rings(path)) {
      const n = ring.length / 2;
      for (let i = 0; i < n; i++) {
        const j = (i + 1) % n;
        let [x0, y0] = [Number(ring[2 * i]) * this.zoom - left, Number(ring[2 * i + 1]) * this.zoom - top];
        let [x1, y1] = [Number(ring[2 * j]) * this.zoom - left, Number(ring[2 * j + 1]) * this.zoom - top];
        if (y0 > y1) [x0, y0, x1, y1] = [x1, y1, x0, y0];
        const last = Math.min(height - 1, Math.ceil(y1 - 0.5) - 1);
        for (let row = Math.max(0, Math.ceil(y0 - 0.5)); row <= last; row++) {
          (crossings[row] ??= []).push(x0 + ((x1 - x0) * (row + 0.5 - y0)) / (y1 - y0));
        }
      }
    }
    crossings.forEach((found, row) => {
      found.sort((a, b) => a - b);
      for (let i = 0; i + 1 < found.length; i += 2) {
        const from = Math.max(0, Math.ceil(Number(found[i]) - 0.5));
        const to = Math.min(width - 1, Math.ceil(Number(found[i + 1]) - 0.5) - 1);
        if (to >= from) on.fill(number, row * width + from, row * width + to + 1);
      }
    });
  }

  /** Finds the place of the cloth at every dot of a patch: each box of its grid is two triangles.
   * @param {import("./weave.js").Grid} grid @param {Dots} dots @param {number} number @param {Uint16Array} seen
   * @param {Uint32Array} order */
  #place(grid, dots, number, seen, order) {
    const { x0, y0, step, nx, ny } = grid;
    const { left, top, width, height } = this.area;
    const { zoom } = this;
    const places = figures(grid);
    dots.x.fill(NaN);
    /** Lays a triangle whose corners' places of the cloth are (a), (a + step along x), (a + step along y), seen at
     * three places: the right angle's first. `sx`, `sy` are ±step.
     * @param {number} ax @param {number} ay @param {number} sx @param {number} sy
     * @param {number} k @param {number} l @param {number} m  numbers of the grid's points */
    const lay = (ax, ay, sx, sy, k, l, m) => {
      const px = Number(places[2 * k]) * zoom - left;
      const py = Number(places[2 * k + 1]) * zoom - top;
      const qx = Number(places[2 * l]) * zoom - left - px;
      const qy = Number(places[2 * l + 1]) * zoom - top - py;
      const rx = Number(places[2 * m]) * zoom - left - px;
      const ry = Number(places[2 * m + 1]) * zoom - top - py;
      const size = qx * ry - qy * rx;
      if (!(Math.abs(size) > 1e-6)) return; // nothing is seen, or it is seen from its edge
      const low = Math.max(0, Math.ceil(py + Math.min(0, qy, ry) - 0.5));
      const high = Math.min(height - 1, Math.floor(py + Math.max(0, qy, ry) - 0.5));
      const first = Math.max(0, Math.ceil(px + Math.min(0, qx, rx) - 0.5));
      const last = Math.min(width - 1, Math.floor(px + Math.max(0, qx, rx) - 0.5));
      for (let row = low; row <= high; row++) {
        const dy = row + 0.5 - py;
        let s = ((first + 0.5 - px) * ry - dy * rx) / size; // how far along x
        let t = (dy * qx - (first + 0.5 - px) * qy) / size; // how far along y
        const [ds, dt] = [ry / size, -qy / size];
        for (let k = row * width + first; k <= row * width + last; k++, s += ds, t += dt) {
          if (s < -1e-3 || t < -1e-3 || s + t > 1.001 || seen[k] !== number) continue;
          const at = /** @type {number} */ (order[k]);
          dots.x[at] = ax + s * sx;
          dots.y[at] = ay + t * sy;
        }
      }
    };
    for (let j = 0; j + 1 < ny; j++) {
      for (let i = 0; i + 1 < nx; i++) {
        const k = j * nx + i;
        const [x, y] = [x0 + i * step, y0 + j * step];
        lay(x, y, step, step, k, k + 1, k + nx);
        lay(x + step, y + step, -step, -step, k + nx + 1, k + nx, k + 1);
      }
    }
  }

  /** Gives every dot the colour of its cloth; returns the part of the image that changed, or null.
   * @param {Record<string, Cloth>} cloths @param {Record<string, {cloth: string}>} pieces
   * @param {Record<string, PhaseSaid>} phases @returns {Area | null} */
  dye(cloths, pieces, phases) {
    let [from, to] = [Infinity, -1];
    for (const dots of this.dots) {
      const cloth = cloths[pieces[dots.piece]?.cloth ?? ""];
      const phase = phases[dots.piece];
      const isPlain = !cloth || !phase || (phase[2] && phase[3]);
      const table = cloth && !isPlain ? tableOf(cloth, this.zoom) : null;
      const shown = table ? `${phase?.[0]} ${phase?.[1]}` : (cloth?.colour ?? "#bbbbbb");
      if (!dots.at.length || (dots.shown === shown && dots.table === table)) continue;
      if (table) this.#weave(dots, table, Number(phase?.[0]), Number(phase?.[1]));
      else for (const k of dots.at) this.ink[k] = packed(shown);
      dots.shown = shown;
      dots.table = table;
      from = Math.min(from, Number(dots.at[0]));
      to = Math.max(to, Number(dots.at.at(-1)));
    }
    if (to < 0) return null;
    const { width } = this.area;
    const [first, last] = [Math.floor(from / width), Math.floor(to / width)];
    return { left: 0, top: first, width, height: last - first + 1 };
  }

  /** @param {Dots} dots @param {Table} table @param {number} u @param {number} v  where in the sett the grain mark falls */
  #weave(dots, table, u, v) {
    const one = 1 << FINE;
    const [perU, perV] = [(table.nu * one) / table.width, (table.nv * one) / table.height];
    if (dots.table !== table) {
      for (let k = 0; k < dots.at.length; k++) {
        const x = /** @type {number} */ (dots.x[k]);
        dots.u[k] = Number.isNaN(x) ? NOWHERE : Math.round(x * perU);
        dots.v[k] = Math.round(/** @type {number} */ (dots.y[k]) * perV);
      }
    }
    const [ou, ov] = [Math.round(u * perU), Math.round(v * perV)];
    const { ink } = this;
    const { at, u: us, v: vs } = dots;
    const { colours, nu, nv, ground } = table;
    const [mu, mv, shift] = [nu - 1, nv - 1, Math.log2(nu)];
    for (let k = 0; k < at.length; k++) {
      const x = /** @type {number} */ (us[k]);
      const row = ((/** @type {number} */ (vs[k]) + ov) >> FINE) & mv;
      ink[/** @type {number} */ (at[k])] =
        x === NOWHERE ? ground : /** @type {number} */ (colours[(row << shift) | (((x + ou) >> FINE) & mu)]);
    }
  }
}

/**
 * @typedef {object} Table  a cloth's colours over one repeat, each step told as the mean of the dot round it
 * @property {Uint32Array} colours  row by row from the lower edge
 * @property {number} nu  steps across, a power of two
 * @property {number} nv
 * @property {number} width  mm
 * @property {number} height
 * @property {number} ground
 */

/** @type {WeakMap<Cloth, {zoom: number, table: Table}>} */
const tables = new WeakMap();

/** Returns a cloth's table as it is looked at. @param {Cloth} cloth @param {number} zoom @returns {Table} */
function tableOf(cloth, zoom) {
  const known = tables.get(cloth);
  if (known?.zoom === zoom) return known.table;
  const [width, height] = [cloth.warp.repeat || 1, cloth.weft.repeat || 1];
  const [nu, nv] = [steps(width * zoom), steps(height * zoom)];
  const across = shares(cloth.warp, nu, Math.max(width / nu, 1 / zoom));
  const up = shares(cloth.weft, nv, Math.max(height / nv, 1 / zoom));
  const warps = [...new Set(cloth.warp.bars.map(({ colour }) => colour))];
  const colours = new Uint32Array(nu * nv);
  const mixed = new Float32Array(3 * warps.length);
  for (let j = 0; j < nv; j++) {
    mixed.fill(0);
    for (const { colour, share } of up[j] ?? []) {
      warps.forEach((warp, i) => {
        const [r = 0, g = 0, b = 0] = parts(cloth.woven[warp]?.[colour] ?? "#888888");
        mixed[3 * i] += share * r;
        mixed[3 * i + 1] += share * g;
        mixed[3 * i + 2] += share * b;
      });
    }
    for (let i = 0; i < nu; i++) {
      let [r, g, b] = [0, 0, 0];
      for (const { colour, share } of across[i] ?? []) {
        const k = 3 * warps.indexOf(colour);
        r += share * Number(mixed[k]);
        g += share * Number(mixed[k + 1]);
        b += share * Number(mixed[k + 2]);
      }
      colours[j * nu + i] = 0xff000000 | (Math.round(b) << 16) | (Math.round(g) << 8) | Math.round(r);
    }
  }
  const table = { colours, nu, nv, width, height, ground: packed(cloth.colour) };
  tables.set(cloth, { zoom, table });
  return table;
}

/** @param {number} dots */
function steps(dots) {
  return Math.min(MOST, Math.max(LEAST, 2 ** Math.ceil(Math.log2(1.5 * dots))));
}

/** Returns for each step of a repeat the colours about its middle and how much there is of each.
 * @param {import("./weave.js").Sequence} sequence @param {number} count @param {number} breadth  mm
 * @returns {{colour: string, share: number}[][]} */
export function shares(sequence, count, breadth) {
  const repeat = sequence.repeat || 1;
  return Array.from({ length: count }, (_, i) => {
    const middle = ((i + 0.5) * repeat) / count;
    /** @type {Record<string, number>} */
    const found = {};
    for (const { colour, from, to } of stretches(sequence, middle - breadth / 2, middle + breadth / 2)) {
      found[colour] = (found[colour] ?? 0) + (to - from) / breadth;
    }
    return Object.entries(found).map(([colour, share]) => ({ colour, share }));
  });
}

/** @type {Map<string, Float32Array[]>} */
const known = new Map();

/** Returns the rings of a path of straight lines: x, y, x, y … @param {string} path */
function rings(path) {
  let found = known.get(path);
  if (!found) {
    if (known.size > 400) known.clear();
    found = path.split(/[MZ]+/).filter(Boolean).map((ring) => Float32Array.from(ring.split(/[L ]/), Number)); // prettier-ignore
    known.set(path, found);
  }
  return found;
}

/** @param {string} hex */
function parts(hex) {
  return [1, 3, 5].map((k) => parseInt(hex.slice(k, k + 2), 16));
}

/** Returns a colour as it lies in an image's memory. @param {string} hex */
function packed(hex) {
  const [r = 0, g = 0, b = 0] = parts(hex);
  return (0xff000000 | (b << 16) | (g << 8) | r) >>> 0;
}
