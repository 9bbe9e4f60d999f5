// The sett's repeat as rectangles: four coats, each over the one before, so that no hairline of another colour shows:
// the ground; level bars over it; upright bars over it; and the crossings of both.

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

/** Returns the bars between two places of a sequence, in order. @param {Sequence} sequence @param {number} low
 * @param {number} high @returns {{colour: string, from: number, to: number}[]} */
export function stretches(sequence, low, high) {
  const found = [];
  for (let at = low; at < high - 1e-9; ) {
    const { bar, into } = barAt(sequence, at);
    const to = Math.min(high, at + Math.max(bar.width - into, 1e-6));
    found.push({ colour: bar.colour, from: at, to });
    at = to;
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
