// The reckoning at the foot: cloth, worst seam, hours, price, and the way to the sheets. Each opens what is behind it.

import { signal } from "../../vendor/signals-core.js";
import { html, nothing, repeat } from "../../vendor/lit-html.js";
import { sliding } from "../sliding.js";
import { faultId } from "../parts/sentence.js";
import * as state from "../state.js";
import { capital, set, small } from "../words.js";
import { billDrawer, hoursDrawer, hoursOf, orderOfWork } from "./hours.js";
import { litSeam } from "./picture.js";

/** @typedef {"cloth" | "seams" | "hours" | "price"} Drawer */

const opened = signal(/** @type {Drawer | ""} */ (""));

const IMPORTANCE = ["always", "if possible", "let go", "hidden"];

/** @param {import("../types.js").Commission} commission */
export function reckoning(commission) {
  const key = commission.plan;
  const found = state.derived(`/api/plans/${key}/reckoning`, /** @type {import("../types.js").Reckoning} */ ({}));
  if (found) last = { id: commission.id, found };
  const shown = found ?? (last?.id === commission.id ? last.found : null);
  const isOld = !found;
  const slide = sliding.value;
  const worst = slide?.worst ?? state.report.value?.worst ?? null;
  const main = shown?.cloths[0];
  const price = shown?.price;
  return html`${opened.value ? drawer(commission, shown) : nothing}
    <div class="cells ${isOld ? "waiting" : ""}" role="group" aria-label="In short" aria-busy=${isOld}>
      ${cell(
        "cloth",
        "Cloth",
        main ? set(main.says) : html`<span class="soft">${state.working.value?.says ?? "laying the pieces"}…</span>`,
        main?.in_hand ? html`<span class=${main.in_hand.fits ? "" : "misses"}>${set(main.in_hand.says)}</span>` : (main?.title ?? ""),
      )}
      ${cell(
        "seams",
        "Worst seam",
        worst
          ? set(worst.said)
          : state.report.value
            ? "no level bars must meet"
            : html`<span class="soft">${state.working.value?.says ?? "matching the bars"}…</span>`,
        worst ? `must meet: ${worst.title}` : "",
        slide ? "moving" : "",
      )}
      ${cell("hours", "Hours", hoursOf(commission)?.said ?? html`<span class="soft">blank, until you set yours</span>`, "")}
      ${cell("price", "Price", price?.said ?? html`<span class="soft">blank, until you set yours</span>`, "")}
      <a class="button main to-print" href="#/${commission.id}/sheets">Sheets to print</a>
    </div>`;
}
let last = /** @type {{id: string, found: import("../types.js").Reckoning} | null} */ (null);

/** @param {Drawer} name @param {string} title @param {unknown} says @param {unknown} beside
 * @param {string} [extra] */
function cell(name, title, says, beside, extra = "") {
  const isOpen = opened.value === name;
  return html`<button
    class="cell ${extra}"
    aria-expanded=${isOpen}
    aria-controls="drawer"
    @click=${() => (opened.value = isOpen ? "" : name)}
  >
    <span class="caps">${title}</span><span class="big figures">${says}</span>
    <span class="small soft beside">${beside}</span>
  </button>`;
}

/** Shuts the drawer, the focus back on what opened it. */
function shut() {
  /** @type {HTMLElement | null} */ (document.querySelector('.cell[aria-expanded="true"]'))?.focus();
  opened.value = "";
}

/** @param {import("../types.js").Commission} commission @param {import("../types.js").Reckoning | null} shown */
function drawer(commission, shown) {
  const content = {
    cloth: () => clothParts(shown),
    seams: () => seams(commission),
    hours: () => html`${hoursDrawer(commission)} ${orderOfWork(commission)}`,
    price: () => billDrawer(commission, shown),
  }[/** @type {Drawer} */ (opened.value)]();
  return html`<div class="drawer" id="drawer">
    <button class="button bare small shut" @click=${shut}>Close</button>
    ${content}
  </div>`;
}

/** @param {import("../types.js").Reckoning | null} shown */
function clothParts(shown) {
  if (!shown) return html`<p class="soft">The pieces are being laid…</p>`;
  return html`<div class="cloth-parts">
    ${shown.cloths.map(
      (cloth) => html`<section>
        <h3>${cloth.title}</h3>
        <p class="figures">${set(capital(cloth.says))}.</p>
        ${cloth.in_hand ? html`<p class=${cloth.in_hand.fits ? "" : "misses"}>${set(cloth.in_hand.says)}</p>` : nothing}
        <table class="figures small">
          <caption class="out-of-sight">
            What the length to buy is made of
          </caption>
          <tbody>
            ${cloth.parts.map(
              (part) => html`<tr>
                <th scope="row">${part.what}</th>
                <td>${set(part.said)}</td>
              </tr>`,
            )}
            ${cloth.said_price
              ? html`<tr>
                  <th scope="row">price</th>
                  <td>${cloth.said_price}</td>
                </tr>`
              : nothing}
          </tbody>
        </table>
      </section>`,
    )}
  </div>`;
}

/** @param {import("../types.js").Commission} commission */
function seams(commission) {
  const all = sliding.value?.seams ?? state.report.value?.seams ?? [];
  /** @param {import("../types.js").Seam} seam */
  const size = (seam) => (seam.importance === "hidden" ? -1 : Math.max(seam.level ?? 0, seam.upright ?? 0));
  const sorted = [...all].sort(
    (a, b) =>
      Number(b.misses) - Number(a.misses) ||
      IMPORTANCE.indexOf(a.importance) - IMPORTANCE.indexOf(b.importance) ||
      size(b) - size(a),
  );
  return html`<p class="small soft">
      What must always meet is laid first, then what may. Touch a seam to see it on the picture and to read where it meets.
    </p>
    <table class="seam-list figures">
      <thead class="small">
        <tr><th scope="col">Seam</th><th scope="col">Level bars</th><th scope="col">Upright bars</th><th scope="col">It matters</th></tr>
      </thead>
      <tbody>
        ${repeat(
          sorted,
          (seam) => seam.join,
          (seam) => seamRows(seam, commission),
        )}
      </tbody>
    </table>`;
}

/** @param {import("../types.js").Seam} seam @param {import("../types.js").Commission} commission */
function seamRows(seam, commission) {
  const field = seam.field ?? `importance.${seam.join.includes(".") ? `"${seam.join}"` : seam.join}`;
  const wrong = state.faults.value[field];
  const isLit = litSeam.value === seam.join;
  /** @param {number | null} miss */
  const told = (miss) => (miss === null ? html`<span class="soft">–</span>` : miss > 1 ? small(miss, commission.units) : "meet");
  return html`<tr class=${isLit ? "lit" : ""}>
      <th scope="row">
        <button
          class="point"
          aria-pressed=${isLit}
          aria-label="Show ${seam.title} on the picture"
          @click=${() => (litSeam.value = isLit ? null : seam.join)}
        >
          <span class="chalk-dot ${seam.misses ? "misses" : ""}" aria-hidden="true"></span>
          ${capital(seam.title)}
        </button>
      </th>
      <td>${told(seam.level)}</td>
      <td>${told(seam.upright)}</td>
      <td>
        <select
          class="field small"
          aria-label="How much ${seam.title} matters"
          @change=${(/** @type {Event} */ event) =>
            state.change([{ set: field, to: /** @type {HTMLSelectElement} */ (event.target).value }], field)}
        >
          ${IMPORTANCE.map((word) => html`<option value=${word} ?selected=${word === seam.importance}>${word}</option>`)}
        </select>
        ${wrong ? html`<span class="fault" id=${faultId(field)}>${state.said(wrong)}</span>` : nothing}
      </td>
    </tr>
    ${isLit ? html`<tr class="lit summary"><td colspan="4" class="small">${set(seam.summary)}</td></tr>` : nothing}`;
}
