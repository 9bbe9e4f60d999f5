// Sliding the cloth under a piece: the piece moves with the hand and snaps to bars, what is tied to it moves along at
// once, and the rest follows when the server has answered. Only the newest place is asked for.

import { signal } from "../vendor/signals-core.js";
import { post, Refused } from "./api.js";
import { modulo, shortest } from "./geometry.js";
import * as state from "./state.js";

/** @typedef {import("./types.js").Report} Report */
/** @typedef {import("./types.js").PhaseSaid} PhaseSaid */
/** @typedef {"upright" | "level"} Axis */

/**
 * @typedef {object} Sliding
 * @property {string} plan
 * @property {string} piece
 * @property {Axis} axis
 * @property {number} from  the place that it had
 * @property {number} to  the place that it has now
 * @property {import("./types.js").Seam[] | null} seams  of the last answer
 * @property {import("./types.js").Seam | null} worst
 * @property {string} says  where it lies
 * @property {boolean} isDone  let go; waiting for the plan that follows
 */

export const sliding = signal(/** @type {Sliding | null} */ (null));

/** The places that are shown while something slides: changes with every frame, so only the picture reads it. */
export const phases = signal(/** @type {Record<string, PhaseSaid> | null} */ (null));

/** @type {Report | null} */
let under = null;
let asked = 0;
let inFlight = false;
let wanted = /** @type {number | null} */ (null);
let answer = /** @type {{place: number, slide: import("./types.js").Slide} | null} */ (null);
let target = /** @type {Record<string, PhaseSaid> | null} */ (null);
let frame = 0;
let settle = /** @type {(() => void) | null} */ (null);

/** @param {Axis} axis */
const index = (axis) => (axis === "upright" ? 0 : 1);

/** @param {Report} report @param {string} piece @param {Axis} axis */
function sequence(report, piece, axis) {
  const cloth = report.cloths[report.pieces[piece]?.cloth ?? ""];
  return axis === "upright" ? cloth?.warp : cloth?.weft;
}

/** Returns whether the cloth can be slid under a piece along an axis. @param {Report} report @param {string} piece
 * @param {Axis} axis */
export function canSlide(report, piece, axis) {
  const phase = report.phases[piece];
  const bars = sequence(report, piece, axis)?.bars ?? [];
  return Boolean(phase && !phase[index(axis) + 2] && !report.pieces[piece]?.is_cut && bars.length > 1);
}

/** Returns the places at which a hand stops, as places of the piece, in order over one repeat, with their words.
 * @param {Report} report @param {string} piece @param {Axis} axis */
export function stops(report, piece, axis) {
  const bars = sequence(report, piece, axis);
  const hold = report.pieces[piece]?.hold?.[axis];
  if (!bars) return [];
  const offset = hold?.offset ?? 0;
  const at = axis === "upright" ? "left edge" : "lower edge";
  return bars.bars
    .flatMap((bar) => [
      { place: bar.start, says: `the ${at} of ${bar.name}` },
      { place: bar.start + bar.width / 2, says: `the middle of ${bar.name}` },
    ])
    .map(({ place, says }) => ({
      place: modulo(place - offset, bars.repeat),
      says: hold ? `${says} on the ${hold.says}` : says,
    }))
    .sort((a, b) => a.place - b.place);
}

/** Begins to slide. @param {Report} report @param {string} piece @param {Axis} axis */
export function take(report, piece, axis) {
  const phase = report.phases[piece];
  if (!phase) return;
  under = report;
  answer = null;
  target = null;
  wanted = null;
  const place = /** @type {number} */ (phase[index(axis)]);
  phases.value = report.phases;
  sliding.value = {
    plan: report.key,
    piece,
    axis,
    from: place,
    to: place,
    seams: null,
    worst: report.worst,
    says: "",
    isDone: false,
  };
}

/** Slides to a place, snapping to a bar that is nearer than `reach`. @param {number} to @param {number} reach */
export function slideTo(to, reach) {
  const now = sliding.value;
  if (!now || !under || now.isDone) return;
  const repeat = sequence(under, now.piece, now.axis)?.repeat ?? 1;
  let says = "";
  let best = reach;
  let place = to;
  for (const stop of stops(under, now.piece, now.axis)) {
    const off = shortest(to, stop.place, repeat);
    if (Math.abs(off) < best) {
      best = Math.abs(off);
      place = to + off;
      says = stop.says;
    }
  }
  if (place === now.to && says === now.says) return;
  phases.value = moved(phases.value ?? under.phases, now, place - now.to);
  now.to = place;
  if (says !== now.says) sliding.value = { ...now, says };
  ask(place);
}

/** Returns places with the piece, and what is tied to it, moved. @param {Record<string, PhaseSaid>} from
 * @param {Sliding} now @param {number} by */
function moved(from, now, by) {
  const made = { ...from };
  /** @param {string} name @param {number} way */
  const shift = (name, way) => {
    const phase = made[name];
    if (!phase) return;
    const copy = /** @type {PhaseSaid} */ ([...phase]);
    copy[index(now.axis)] += way * by;
    made[name] = copy;
  };
  shift(now.piece, 1);
  for (const [name, way] of Object.entries(ties(now))) shift(name, way);
  return made;
}

/** Returns the pieces that keep their place to the one that slides, and which way they go. @param {Sliding} now */
function ties(now) {
  const told = under?.pieces[now.piece]?.ties?.[now.axis] ?? {};
  if (Array.isArray(told)) return now.axis === "level" ? Object.fromEntries(told.map((name) => [name, 1])) : {};
  const { [now.piece]: _, ...others } = told;
  return others;
}

/** Asks the server for what follows; while it works only the newest wish is kept. @param {number} place */
function ask(place) {
  wanted = place;
  if (!inFlight) void send();
}

async function send() {
  const now = sliding.value;
  if (wanted === null || !now) return;
  const place = wanted;
  wanted = null;
  inFlight = true;
  const number = ++asked;
  try {
    const repeat = sequence(/** @type {Report} */ (under), now.piece, now.axis)?.repeat ?? 1;
    const wish = { piece: now.piece, axis: now.axis, place: modulo(place, repeat) };
    /** @type {import("./types.js").Slide} */
    const slide = await post(`/api/plans/${now.plan}/slide`, wish);
    if (number === asked && sliding.value && sliding.value.piece === now.piece && sliding.value.axis === now.axis) {
      answer = { place, slide };
      target = slide.phases;
      sliding.value = { ...sliding.value, seams: slide.seams, worst: slide.worst };
      follow();
    }
  } catch (error) {
    if (!(error instanceof Refused && error.kind === "superseded")) {
      state.tellError(error);
      cancel();
    }
  } finally {
    inFlight = false;
    if (wanted !== null && sliding.value) void send();
    else if (settle) settle();
  }
}

/** Lets the other pieces glide to where the answer puts them. */
function follow() {
  cancelAnimationFrame(frame);
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const glide = () => {
    const now = sliding.value;
    if (!now || !target || !under) return;
    let isThere = true;
    const made = { ...(phases.value ?? under.phases) };
    const tied = ties(now);
    const since = now.to - (answer?.place ?? now.to); // what the hand has moved since that answer was asked for
    for (const [name, to] of Object.entries(target)) {
      const from = made[name];
      const cloth = under.cloths[under.pieces[name]?.cloth ?? ""];
      if (!from || !cloth || (name === now.piece && !now.isDone)) continue;
      const copy = /** @type {PhaseSaid} */ ([...from]);
      for (const [k, repeat] of [[0, cloth.warp.repeat], [1, cloth.weft.repeat]]) {
        const ahead = k === index(now.axis) ? (tied[name] ?? 0) * since : 0;
        const way = shortest(Number(from[k ?? 0]), Number(to[k ?? 0]) + ahead, repeat ?? 1);
        if (Math.abs(way) < 0.05 || still) copy[/** @type {0 | 1} */ (k)] = Number(from[k ?? 0]) + way;
        else {
          copy[/** @type {0 | 1} */ (k)] = Number(from[k ?? 0]) + way * 0.35;
          isThere = false;
        }
      }
      made[name] = copy;
    }
    phases.value = made;
    if (!isThere) frame = requestAnimationFrame(glide);
  };
  frame = requestAnimationFrame(glide);
}

/** Lets go: keeps what the slide came to. */
export async function letGo() {
  const now = sliding.value;
  if (!now || now.isDone) return;
  if (now.to === now.from) {
    cancel();
    return;
  }
  sliding.value = { ...now, isDone: true };
  if (!answer || Math.abs(answer.place - now.to) > 1e-6) {
    if (wanted === null && !inFlight) ask(now.to);
    await new Promise((resolve) => (settle = () => resolve(undefined)));
    settle = null;
  }
  if (!answer || !sliding.value) {
    cancel();
    return;
  }
  const { slide } = answer;
  const title = under?.pieces[now.piece]?.title ?? now.piece;
  const before = state.commission.value?.plan;
  if (await state.change(slide.changes)) {
    state.tell(`Pinned on ${title}: ${slide.snap?.says ?? "where you left it"}.`);
    if (state.commission.value?.plan === before) cancel();
  } else cancel();
}

/** Goes back to how it lay. */
export function cancel() {
  cancelAnimationFrame(frame);
  wanted = null;
  settle = null;
  sliding.value = null;
  phases.value = null;
}

/** Ends the slide when the plan that follows from it is there. @param {Report | null} report */
export function arrived(report) {
  if (sliding.value && report && report.key !== sliding.value.plan) cancel();
}
