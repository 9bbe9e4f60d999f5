// The cloth's bars on a piece: on a flat piece an SVG pattern, on the figure (where the map bends) strips and cells
// drawn on a canvas. Both draw the same four coats, each over the one before, so that no hairline of another colour
// shows: the ground; level bars over it; upright bars over it; and the crossings of both.

import { modulo } from "./geometry.js";

/**
 * @typedef {object} Bar
 * @property {string} name
 * @property {string} colour  a name of the cloth's colours
 * @property {number} width  mm
 *
 * @typedef {object} Sequence
 * @property {readonly Bar[]} bars
 * @property {number} repeat  mm
 *
 * @typedef {object} Sett
 * @property {Sequence} warp
 * @property {Sequence} weft
 * @property {Record<string, Record<string, string>>} woven  warp colour, weft colour: "#rrggbb"
 *
 * @typedef {object} Run  bars of one colour that touch
 * @property {string} colour
 * @property {number} start
 * @property {number} end
 *
 * @typedef {object} Way  one direction of a sett, ready to draw
 * @property {number} repeat
 * @property {string} ground
 * @property {readonly Run[]} runs  those that aren't of the ground colour, over one repeat
 */

/** @type {WeakMap<Sequence, Way>} */
const ways = new WeakMap();

/** Returns a sequence's ground colour and the runs over it. @param {Sequence} sequence @returns {Way} */
export function way(sequence) {
  const known = ways.get(sequence);
  if (known) return known;
  /** @type {Record<string, number>} */
  const widths = {};
  for (const bar of sequence.bars) widths[bar.colour] = (widths[bar.colour] ?? 0) + bar.width;
  const ground = Object.keys(widths).reduce((a, b) => ((widths[b] ?? 0) > (widths[a] ?? 0) + 1e-9 ? b : a));
  /** @type {Run[]} */
  const runs = [];
  let at = 0;
  for (const bar of sequence.bars) {
    const last = runs.at(-1);
    if (last && last.colour === bar.colour && Math.abs(last.end - at) < 1e-9) last.end = at + bar.width;
    else runs.push({ colour: bar.colour, start: at, end: at + bar.width });
    at += bar.width;
  }
  const made = { repeat: sequence.repeat || at || 1, ground, runs: runs.filter((run) => run.colour !== ground) };
  ways.set(sequence, made);
  return made;
}

/** Returns the runs that reach into a stretch, in order. @param {Way} of @param {number} low @param {number} high */
function reaching(of, low, high) {
  /** @type {Run[]} */
  const found = [];
  for (let turn = Math.floor(low / of.repeat) - 1; turn * of.repeat <= high; turn++) {
    const by = turn * of.repeat;
    for (const run of of.runs) {
      if (run.end + by > low && run.start + by < high) {
        found.push({ colour: run.colour, start: run.start + by, end: run.end + by });
      }
    }
  }
  return found;
}

/** Returns the rectangles of one repeat, coat by coat: [x, y, width, height, colour].
 * @param {Sett} sett @returns {[number, number, number, number, string][]} */
export function tile(sett) {
  const across = way(sett.warp);
  const up = way(sett.weft);
  /** @type {[number, number, number, number, string][]} */
  const coats = [[0, 0, across.repeat, up.repeat, colour(sett, across.ground, up.ground)]];
  for (const row of up.runs) {
    coats.push([0, row.start, across.repeat, row.end - row.start, colour(sett, across.ground, row.colour)]);
  }
  for (const column of across.runs) {
    coats.push([column.start, 0, column.end - column.start, up.repeat, colour(sett, column.colour, up.ground)]);
  }
  for (const column of across.runs) {
    for (const row of up.runs) {
      coats.push([
        column.start,
        row.start,
        column.end - column.start,
        row.end - row.start,
        colour(sett, column.colour, row.colour),
      ]);
    }
  }
  return coats;
}

/** @param {Sett} sett @param {string} warp @param {string} weft */
function colour(sett, warp, weft) {
  return sett.woven[warp]?.[weft] ?? "#888888";
}

/**
 * @typedef {object} Grid  the map to the figure, sampled row by row in the cloth's own directions from the grain mark:
 *   the place (x, y) falls in the sett at (u + x, v + y)
 * @property {number} x0
 * @property {number} y0
 * @property {number} step
 * @property {number} nx
 * @property {number} ny
 * @property {readonly (number | null)[]} places  X, Y, X, Y …; null where nothing is seen
 */

/** @type {WeakMap<Grid, Float32Array>} */
const known = new WeakMap();

/** Returns a grid's places as plain figures, not a number where nothing is seen. @param {Grid} grid */
export function figures(grid) {
  let found = known.get(grid);
  if (!found) known.set(grid, (found = Float32Array.from(grid.places, (place) => place ?? NaN)));
  return found;
}

/** Writes where a place of the grid lies on the figure; beyond the grid its outer cells are carried on.
 * @param {Grid} grid @param {Float32Array} places  its figures @param {number} x @param {number} y
 * @param {Float64Array} into @param {number} at */
export function placed({ x0, y0, step, nx, ny }, places, x, y, into, at) {
  const gx = (x - x0) / step;
  const gy = (y - y0) / step;
  const i = Math.min(nx - 2, Math.max(0, Math.floor(gx)));
  const j = Math.min(ny - 2, Math.max(0, Math.floor(gy)));
  const dx = gx - i;
  const dy = gy - j;
  const low = 2 * (j * nx + i);
  const high = low + 2 * nx;
  const a = (1 - dx) * (1 - dy);
  const b = dx * (1 - dy);
  const c = (1 - dx) * dy;
  const d = dx * dy;
  for (let k = 0; k < 2; k++) {
    into[at + k] =
      a * /** @type {number} */ (places[low + k]) +
      b * /** @type {number} */ (places[low + 2 + k]) +
      c * /** @type {number} */ (places[high + k]) +
      d * /** @type {number} */ (places[high + 2 + k]);
  }
}

/** Draws the bars of one patch; the caller has set the transform from the figure and clipped to the patch's shape.
 * @param {CanvasRenderingContext2D} pen @param {Path2D} outline @param {Grid} grid @param {Sett} sett
 * @param {number} u @param {number} v  where in the sett the grain mark falls */
export function weave(pen, outline, grid, sett, u, v) {
  const across = way(sett.warp);
  const up = way(sett.weft);
  const [u0, v0] = [u + grid.x0, v + grid.y0];
  const [u1, v1] = [u0 + grid.step * (grid.nx - 1), v0 + grid.step * (grid.ny - 1)];
  const columns = reaching(across, u0, u1);
  const rows = reaching(up, v0, v1);
  const us = knots(columns, u0, u1, grid.step);
  const vs = knots(rows, v0, v1, grid.step);
  const n = us.at.length;
  const m = vs.at.length;
  const nodes = new Float64Array(2 * n * m);
  const places = figures(grid);
  for (let j = 0; j < m; j++) {
    const y = /** @type {number} */ (vs.at[j]) - v;
    for (let i = 0; i < n; i++) {
      placed(grid, places, /** @type {number} */ (us.at[i]) - u, y, nodes, 2 * (j * n + i));
    }
  }
  /** Whether the cell up and right of a node is seen. @param {number} i @param {number} j */
  const isSeen = (i, j) => {
    const k = 2 * (j * n + i);
    const l = k + 2 * n;
    return !Number.isNaN(/** @type {number} */ (nodes[k]) + /** @type {number} */ (nodes[k + 2]) +
      /** @type {number} */ (nodes[l]) + /** @type {number} */ (nodes[l + 2]));
  };
  /** @param {number} i0 @param {number} i1 @param {number} j0 @param {number} j1 @param {Path2D} path */
  const ring = (i0, i1, j0, j1, path) => {
    point(path, "moveTo", j0 * n + i0);
    for (let i = i0 + 1; i <= i1; i++) point(path, "lineTo", j0 * n + i);
    for (let j = j0 + 1; j <= j1; j++) point(path, "lineTo", j * n + i1);
    for (let i = i1 - 1; i >= i0; i--) point(path, "lineTo", j1 * n + i);
    for (let j = j1 - 1; j > j0; j--) point(path, "lineTo", j * n + i0);
    path.closePath();
  };
  /** @param {Path2D} path @param {"moveTo" | "lineTo"} how @param {number} k */
  const point = (path, how, k) => {
    path[how](/** @type {number} */ (nodes[2 * k]), /** @type {number} */ (nodes[2 * k + 1]));
  };
  /** Adds a box of cells as far as it is seen: along its longer way, in stretches seen in their whole breadth, the
   * rest cell by cell. @param {number} i0 @param {number} i1 @param {number} j0 @param {number} j1 @param {Path2D} path */
  const box = (i0, i1, j0, j1, path) => {
    const isUpright = j1 - j0 >= i1 - i0;
    const [from, to, low, high] = isUpright ? [j0, j1, i0, i1] : [i0, i1, j0, j1];
    /** @param {number} a @param {number} b */
    const seen = (a, b) => (isUpright ? isSeen(b, a) : isSeen(a, b));
    /** @param {number} a @param {number} to @param {number} b @param {number} end */
    const add = (a, to, b, end) => (isUpright ? ring(b, end, a, to, path) : ring(a, to, b, end, path));
    let start = -1;
    for (let a = from; a <= to; a++) {
      let count = 0;
      if (a < to) for (let b = low; b < high; b++) if (seen(a, b)) count++;
      const isWhole = count > 0 && count === high - low;
      if (isWhole && start < 0) start = a;
      else if (!isWhole && start >= 0) {
        add(start, a, low, high);
        start = -1;
      }
      if (count > 0 && !isWhole) for (let b = low; b < high; b++) if (seen(a, b)) add(a, a + 1, b, b + 1);
    }
  };
  /** @type {Map<string, Path2D>} */
  let coat = new Map();
  /** @param {string} warp @param {string} weft */
  const path = (warp, weft) => {
    const ink = colour(sett, warp, weft);
    let found = coat.get(ink);
    if (!found) coat.set(ink, (found = new Path2D()));
    return found;
  };
  const lay = () => {
    for (const [ink, drawn] of coat) {
      pen.fillStyle = ink;
      pen.fill(drawn);
    }
    coat = new Map();
  };
  pen.fillStyle = colour(sett, across.ground, up.ground);
  pen.fill(outline);
  rows.forEach((row, j) => box(0, n - 1, vs.starts[j] ?? 0, vs.ends[j] ?? 0, path(across.ground, row.colour)));
  lay();
  columns.forEach((column, i) => box(us.starts[i] ?? 0, us.ends[i] ?? 0, 0, m - 1, path(column.colour, up.ground)));
  lay();
  columns.forEach((column, i) => {
    rows.forEach((row, j) =>
      box(us.starts[i] ?? 0, us.ends[i] ?? 0, vs.starts[j] ?? 0, vs.ends[j] ?? 0, path(column.colour, row.colour)),
    );
  });
  lay();
}

/** Returns the places at which a stretch is told: both ends, every side of a bar, and between them no more than a
 * step apart; with each run's first and last number.
 * @param {readonly Run[]} runs @param {number} low @param {number} high @param {number} step */
function knots(runs, low, high, step) {
  /** @type {number[]} */
  const at = [low];
  /** @type {number[]} */
  const starts = [];
  /** @type {number[]} */
  const ends = [];
  /** @param {number} to */
  const walk = (to) => {
    const from = /** @type {number} */ (at.at(-1));
    const parts = Math.ceil((to - from) / step - 1e-9);
    for (let k = 1; k < parts; k++) at.push(from + ((to - from) * k) / parts);
    if (to > from) at.push(to);
  };
  for (const run of runs) {
    walk(Math.max(low, run.start));
    starts.push(at.length - 1);
    walk(Math.min(high, run.end));
    ends.push(at.length - 1);
  }
  walk(high);
  return { at, starts, ends };
}

/** Returns the bar at a place of a sequence and how far into it the place lies.
 * @param {Sequence} sequence @param {number} place @returns {{bar: Bar, into: number}} */
export function barAt(sequence, place) {
  let left = modulo(place, sequence.repeat);
  for (const bar of sequence.bars) {
    if (left < bar.width) return { bar, into: left };
    left -= bar.width;
  }
  return { bar: /** @type {Bar} */ (sequence.bars.at(-1)), into: left };
}
