// The picture in the middle: the garment from four sides, or the pieces, the cloth with the pieces laid on it, the
// shaped facings, the drafting record. While something is tried, taken and tried stand side by side.

import { effect, signal } from "../../vendor/signals-core.js";
import { html, nothing, ref } from "../../vendor/lit-html.js";
import * as icons from "../parts/icons.js";
import { GarmentPicture } from "../parts/garment-picture.js";
import { PieceBoard } from "../parts/piece-board.js";
import { LaidCloth } from "../parts/laid-cloth.js";
import * as sliding from "../sliding.js";
import * as state from "../state.js";
import { modulo, shortest } from "../geometry.js";
import { capital, set } from "../words.js";
import { cutting } from "./cutting.js";
import { lessonView } from "./lesson.js";
import { facingsView } from "./facings.js";

const PARTS = /** @type {const} */ ({
  garment: "Garment",
  pieces: "Pieces",
  layout: "On the cloth",
  facings: "Facings",
  lesson: "Drafting",
});
/** @typedef {keyof typeof PARTS} Part */

/** What a view is called in a sentence. @type {Record<string, string>} */
const SIDES = { left: "left side", right: "right side" };

const view = signal("front");
const moves = signal(false); // one finger moves the picture instead of the cloth
const chalk = signal(true);
const over = signal(/** @type {string | null} */ (null));
const look = signal(/** @type {import("../geometry.js").Looking | null} */ (null));
const layoutOf = signal("shell");
export const litSeam = signal(/** @type {string | null} */ (null));

/** @type {Set<{whole: () => void, zoom: (by: number) => void}>} */
const shownPictures = new Set();

/** @returns {Part} */
function part() {
  const named = state.place.value.part;
  return named in PARTS ? /** @type {Part} */ (named) : "garment";
}

/** @param {import("../types.js").Commission} commission */
export function pictureArea(commission) {
  const now = part();
  const report = state.report.value;
  const wrong = state.wrongAt(`/api/plans/${commission.plan}`);
  sliding.arrived(report?.key === commission.plan ? report : null);
  const isLate = report !== null && report.key !== commission.plan;
  return html`<div class="picture-tools">
      <nav class="segments" aria-label="What the picture shows">
        ${Object.entries(PARTS).map(
          ([name, says]) =>
            html`<a href="#/${commission.id}/plan/${name}" aria-current=${name === now ? "page" : nothing}>${says}</a>`,
        )}
      </nav>
      ${now === "garment" && report ? garmentTools(report) : nothing}
      ${now === "layout" ? layoutTools() : nothing}
      ${now === "layout" && report && !state.tried.value ? cutting(report, layoutOf.value) : nothing}
      ${now === "garment" || now === "pieces" || now === "layout"
        ? html`<div class="zooms" role="group" aria-label="Size">
            <button class="button bare icon" aria-label="Smaller" title="Smaller (−)" @click=${() => zoom(0.8)}>${icons.less}</button>
            <button class="button bare icon" aria-label="Show all of it" title="Show all of it (0)" @click=${whole}>${icons.whole}</button>
            <button class="button bare icon" aria-label="Larger" title="Larger (+)" @click=${() => zoom(1.25)}>${icons.more}</button>
          </div>`
        : nothing}
    </div>
    ${state.tried.value ? triedBar(commission) : nothing}
    <div class="stage ${isLate ? "late" : ""}" aria-busy=${isLate}>
      ${wrong
        ? html`<div class="cannot"><h2>It can't be planned so</h2>
            <ul class="findings">${(wrong.findings.length ? wrong.findings : []).map((one) => html`<li><span class="fault">${state.said(one)}</span></li>`)}</ul>
            ${wrong.findings.length ? nothing : html`<p>${wrong.message}</p>`}</div>`
        : report
          ? shows(now, commission, report)
          : html`<div class="waiting-note" role="status">
              <p>${state.working.value?.says ?? "Working it out"}…</p>
              <p class="patience">The first time on this machine it takes up to a minute.</p>
            </div>`}
    </div>`;
}

/** @param {Part} now @param {import("../types.js").Commission} commission @param {import("../types.js").Report} report */
function shows(now, commission, report) {
  const tried = state.tried.value;
  const triedReport = tried && state.derived(`/api/plans/${tried.plan}`, /** @type {import("../types.js").Report} */ ({}));
  const shown = triedReport ?? report; // what is tried stands in the place of what is taken, but for the garment
  if (now === "garment") {
    if (tried) return bothGarments(report, tried, commission);
    return html`${garment(report, commission)}${caption(report)}`;
  }
  if (now === "pieces") return pieceBoard(shown);
  if (now === "layout") return layout(shown, commission);
  if (now === "facings") return facingsView(tried?.plan ?? report.key);
  return lessonView(tried?.plan ?? report.key);
}

/** @param {import("../types.js").Report} report */
function garmentTools(report) {
  const views = report.views;
  const own = views.includes(view.value) ? view.value : (views[0] ?? "front");
  return html`<div class="segments" role="group" aria-label="Seen from">
      ${views.map(
        (one) => html`<button aria-pressed=${one === own} @click=${() => (view.value = one)}>${capital(one)}</button>`,
      )}
    </div>
    <div class="segments" role="group" aria-label="What dragging does">
      <button aria-pressed=${!moves.value} title="Drag the cloth on a piece" @click=${() => (moves.value = false)}>Slide cloth</button>
      <button aria-pressed=${moves.value} title="Drag the whole picture" @click=${() => (moves.value = true)}>Move picture</button>
    </div>
    <label class="check small"><input type="checkbox" .checked=${chalk.value}
      @change=${(/** @type {Event} */ event) => (chalk.value = /** @type {HTMLInputElement} */ (event.target).checked)} /> chalk</label>`;
}

function layoutTools() {
  const cloths = Object.entries(state.report.value?.cloths ?? {});
  if (!(layoutOf.value in (state.report.value?.cloths ?? {}))) layoutOf.value = cloths[0]?.[0] ?? "shell";
  return cloths.length > 1
    ? html`<div class="segments" role="group" aria-label="Cloth">
        ${cloths.map(
          ([name, cloth]) =>
            html`<button aria-pressed=${name === layoutOf.value} @click=${() => (layoutOf.value = name)}>${cloth.title || name}</button>`,
        )}
      </div>`
    : nothing;
}

/** @param {number} by */
function zoom(by) {
  for (const picture of shownPictures) {
    picture.zoom(by);
    break;
  }
}

function whole() {
  look.value = null;
  for (const picture of shownPictures) picture.whole();
}

/** @param {string} key @param {import("../types.js").Report} report */
function pictureOf(key, report) {
  const from = report.views.includes(view.value) ? view.value : (report.views[0] ?? "front");
  const found = state.derived(`/api/plans/${key}/picture/${from}`, /** @type {import("../types.js").Picture} */ ({}));
  if (found) lastPicture.set(from, { key, found });
  return found;
}
/** @type {Map<string, {key: string, found: import("../types.js").Picture}>} */
const lastPicture = new Map();

/** @param {import("../types.js").Report} report @param {import("../types.js").Commission} commission
 * @param {boolean} [isTried] */
function garment(report, commission, isTried = false) {
  const from = report.views.includes(view.value) ? view.value : (report.views[0] ?? "front");
  const picture = pictureOf(report.key, report) ?? (isTried ? null : lastPicture.get(from)?.found);
  if (!picture) return html`<p class="waiting-note" role="status">Drawing the ${SIDES[from] ?? from}…</p>`;
  const slide = isTried ? null : sliding.sliding.value;
  /** @type {import("../parts/garment-picture.js").Showing} */
  const showing = {
    picture,
    report,
    phases: (isTried ? null : sliding.phases.peek()) ?? report.phases,
    seams: slide?.seams ?? report.seams,
    units: commission.units,
    chalk: chalk.value,
    lit: litSeam.value,
    slides: !moves.value && !isTried && !state.tried.value,
    label: `The garment, ${SIDES[from] ?? from}${isTried ? ", as tried" : ""}`,
    canSlide: (piece, axis) => sliding.canSlide(report, piece, axis),
  };
  return html`<garment-picture
    tabindex="0"
    aria-label="Picture of the ${SIDES[from] ?? from}. Plus and minus change its size, arrow keys move it, Tab goes to the pieces."
    role="group"
    class=${slide ? "sliding" : ""}
    .showing=${showing}
    .look=${look.value}
    ${ref((element) => kept(element))}
    @looked=${(/** @type {CustomEvent} */ event) => (look.value = event.detail)}
    @over=${(/** @type {CustomEvent} */ event) => (over.value = event.detail)}
    @seam=${(/** @type {CustomEvent} */ event) => {
      litSeam.value = litSeam.value === event.detail ? null : event.detail;
      const seam = report.seams.find((one) => one.join === event.detail);
      if (seam && litSeam.value) state.tell(`${capital(seam.title)}. ${seam.summary}`);
    }}
    @slide-start=${(/** @type {CustomEvent} */ event) => sliding.take(report, event.detail.piece, event.detail.axis)}
    @slide=${(/** @type {CustomEvent} */ event) => {
      const from = sliding.sliding.value?.from;
      if (from !== undefined) sliding.slideTo(from + event.detail.by, event.detail.reach);
    }}
    @slide-end=${() => {
      clearTimeout(resting);
      void sliding.letGo();
    }}
    @slide-cancel=${() => {
      clearTimeout(resting);
      sliding.cancel();
    }}
    @nudge=${(/** @type {CustomEvent} */ event) => nudge(report, event.detail)}
    @pin=${(/** @type {CustomEvent} */ event) => unpin(report, event.detail)}
  ></garment-picture>`;
}

/** @type {Element | undefined} */
let current;

// What slides is drawn frame by frame past the page's own drawing.
effect(() => {
  const phases = sliding.phases.value;
  if (phases && current instanceof GarmentPicture) current.phases = phases;
});

/** @param {Element | undefined} element */
function kept(element) {
  if (element instanceof GarmentPicture || element instanceof PieceBoard || element instanceof LaidCloth) {
    if (current !== element) shownPictures.clear();
    current = element;
    shownPictures.add(element);
  }
}

let resting = 0;

/** Slides to the next bar, or by a millimetre, and lets go when no key has come for a while.
 * @param {import("../types.js").Report} report
 * @param {{piece: string, axis: "upright" | "level", sign: number, fine: boolean}} how */
function nudge(report, { piece, axis, sign, fine }) {
  if (!sliding.canSlide(report, piece, axis)) {
    state.tell(report.pieces[piece]?.is_cut ? "That piece is cut already." : `No ${axis} bars to slide here.`);
    return;
  }
  let now = sliding.sliding.value;
  if (!now || now.piece !== piece || now.axis !== axis || now.isDone) {
    sliding.take(report, piece, axis);
    now = sliding.sliding.value;
  }
  if (!now) return;
  clearTimeout(resting);
  if (fine) sliding.slideTo(now.to + sign, 0);
  else {
    const cloth = report.cloths[report.pieces[piece]?.cloth ?? ""];
    const repeat = (axis === "upright" ? cloth?.warp.repeat : cloth?.weft.repeat) ?? 1;
    const ways = sliding
      .stops(report, piece, axis)
      .map((stop) => {
        const ahead = modulo(sign * shortest(now.to, stop.place, repeat), repeat);
        return ahead < 0.05 ? ahead + repeat : ahead;
      })
      .filter((ahead) => ahead > 0.05);
    sliding.slideTo(now.to + sign * Math.min(...ways), 0.02);
  }
  const says = sliding.sliding.value?.says;
  const spoken = document.getElementById("spoken");
  if (spoken && says) spoken.textContent = says;
  resting = setTimeout(() => void sliding.letGo(), 900);
}

/** @param {import("../types.js").Report} report @param {string} piece */
function unpin(report, piece) {
  const pins = pinsOf(report, piece);
  if (!pins.length) {
    state.tell("No pin on this piece. Slide the cloth, and it is pinned where you let go.");
    return;
  }
  void state
    .change(pins.map(({ field }) => ({ take_out: field })).reverse())
    .then((done) => done && state.tell(`${capital(report.pieces[piece]?.title ?? piece)}: the pin is out.`));
}

/** @param {import("../types.js").Report} report @param {string} piece */
function pinsOf(report, piece) {
  const pinned = report.pieces[piece]?.pinned ?? {};
  return Array.isArray(pinned) ? [] : Object.entries(pinned).map(([axis, field]) => ({ axis, field }));
}

/** @param {import("../types.js").Report} report */
function caption(report) {
  const slide = sliding.sliding.value;
  if (slide) {
    const title = report.pieces[slide.piece]?.title ?? slide.piece;
    return html`<p class="caption live">
      <span><strong>${capital(title)}</strong>, ${slide.axis} bars: ${slide.says ? set(slide.says) : "between bars"}${slide.isDone ? " · keeping…" : ""}</span>
    </p>`;
  }
  const piece = over.value ? report.pieces[over.value] : null;
  const pinned = Object.entries(report.pieces).flatMap(([name]) => pinsOf(report, name).map((pin) => ({ ...pin, name })));
  return html`<p class="caption">
    ${piece
      ? html`<span class="over-piece"><strong>${capital(piece.title)}</strong>${piece.is_cut ? ", cut already" : ""}</span>`
      : html`<span class="soft over-piece">Where the bars fall, not how the cloth hangs.</span>`}
    ${pinned.length
      ? html`<span class="pins">${pinned.map(
          ({ name, axis, field }) => html`<button class="pin-tag" title="Take this pin out"
            aria-label="Take out the pin on ${report.pieces[name]?.title ?? name}, ${axis} bars"
            @click=${() => state.change([{ take_out: field }])}>${icons.pin} ${report.pieces[name]?.title ?? name}, ${axis} <span aria-hidden="true">×</span></button>`,
        )}</span>`
      : nothing}
  </p>`;
}

// ---- taken and tried

/** @param {import("../types.js").Commission} commission */
function triedBar(commission) {
  const tried = state.tried.value;
  if (!tried) return nothing;
  const found = state.derived(
    `/api/plans/${tried.plan}/differences?from=${commission.plan}`,
    /** @type {{differences: import("../types.js").Difference[]}} */ ({ differences: [] }),
  );
  const different = found?.differences.filter((one) => !one.same) ?? [];
  return html`<section class="tried-bar" aria-label="Tried">
    <p><span class="caps">Tried</span> ${capital(tried.title)}</p>
    <div class="row">
      <button class="button main" @click=${backAnd(state.takeIt)}>Take it</button>
      <button class="button" @click=${backAnd(state.leaveIt)}>Leave it</button>
    </div>
    ${found
      ? different.length
        ? html`<table class="figures small">
            <thead>
              <tr><th scope="col"><span class="out-of-sight">What differs</span></th><th scope="col">as it stands</th><th scope="col">tried</th></tr>
            </thead>
            <tbody>
              ${different.map(
                (one) => html`<tr>
                  <th scope="row">${capital(one.title)}</th><td>${set(one.taken)}</td><td><strong>${set(one.tried)}</strong></td>
                </tr>`,
              )}
            </tbody>
          </table>`
        : html`<p class="small">Cloth, worst seam, shaping and hours stay as they are.</p>`
      : html`<p class="small soft" role="status">${state.working.value?.says ?? "laying it out to compare"}…</p>`}
  </section>`;
}

/** Ends a try with the focus on the word that was tried, since the buttons go. @param {() => unknown} end */
function backAnd(end) {
  return () => {
    const word = document.querySelector(".ticket .word.tried") ?? document.querySelector(".stage [tabindex]");
    if (word instanceof HTMLElement) word.focus();
    void end();
  };
}

/** @param {import("../types.js").Report} report @param {{plan: string, title: string}} tried
 * @param {import("../types.js").Commission} commission */
function bothGarments(report, tried, commission) {
  const other = state.derived(`/api/plans/${tried.plan}`, /** @type {import("../types.js").Report} */ ({}));
  const wrong = state.wrongAt(`/api/plans/${tried.plan}`);
  return html`<div class="both">
    <figure><figcaption>As it stands</figcaption>${garment(report, commission)}</figure>
    <figure class="tried"><figcaption>Tried</figcaption>
      ${wrong
        ? html`<div class="cannot"><p class="fault">${wrong.findings.map(state.said).join(" ") || wrong.message}</p></div>`
        : other
          ? garment(other, commission, true)
          : html`<p class="waiting-note" role="status">${state.working.value?.says ?? "Working it out"}…</p>`}
    </figure>
  </div>`;
}

// ---- pieces, layout

/** @param {import("../types.js").Report} report */
function pieceBoard(report) {
  const found = state.derived(`/api/plans/${report.key}/pieces`, /** @type {{pieces: import("../types.js").FlatPiece[]}} */ ({ pieces: [] }));
  if (!found) return html`<p class="waiting-note" role="status">Laying out the pieces…</p>`;
  return html`<piece-board tabindex="0" role="group" aria-label="The pieces, flat. Plus and minus change the size, arrow keys move."
    .showing=${{ pieces: found.pieces, report, phases: report.phases }}
    ${ref((element) => kept(element))}></piece-board>`;
}

/** @param {import("../types.js").Report} report @param {import("../types.js").Commission} commission */
function layout(report, commission) {
  const path = `/api/plans/${report.key}/reckoning`;
  const found = state.derived(path, /** @type {import("../types.js").Reckoning} */ ({}));
  const wrong = state.wrongAt(path);
  if (wrong) return html`<p class="waiting-note">${wrong.message}</p>`;
  if (!found) return html`<p class="waiting-note" role="status">${state.working.value?.says ?? "Laying the pieces on the cloth"}…</p>`;
  const laid = found.cloths.find((one) => one.name === layoutOf.value);
  const cloth = report.cloths[layoutOf.value];
  if (!laid?.layout || !cloth) return html`<p class="waiting-note">No piece is cut from this cloth.</p>`;
  return html`<laid-cloth tabindex="0" role="group" aria-label="The layout on the cloth. Plus and minus change the size, arrow keys move."
      .showing=${{ layout: laid.layout, cloth, pieces: report.pieces, units: commission.units }} ${ref((element) => kept(element))}></laid-cloth>
    <p class="caption"><span>${laid.title}: ${set(laid.says)}. Right side up, the squared end at the foot.</span></p>`;
}
