// The shaping of each facing: what the iron has to shrink or stretch, station by station, and what the plan advises.

import { html, nothing, ref } from "../../vendor/lit-html.js";
import * as state from "../state.js";
import { capital, set } from "../words.js";
import { drawn } from "./lesson.js";

/** @typedef {{piece: string, title: string, rows: Record<string, string>[], svg: string | null, advice: string}} Facing */

/** @param {string} key */
export function facingsView(key) {
  const path = `/api/plans/${key}/facings`;
  const found = state.derived(path, /** @type {{facings: Facing[]}} */ ({ facings: [] }));
  const wrong = state.wrongAt(path);
  if (wrong) return html`<p class="waiting-note">${wrong.message}</p>`;
  if (!found) return html`<p class="waiting-note" role="status">Looking at the facings…</p>`;
  if (!found.facings.length) {
    return html`<p class="waiting-note">No facing here needs shaping: each is cut to its edge.</p>`;
  }
  return html`<div class="facings" tabindex="0" role="region" aria-label="Shaping of the facings">
    ${found.facings.map((facing) => {
      const heads = Object.keys(facing.rows[0] ?? {});
      return html`<article>
        <h3>${capital(facing.title)}</h3>
        <p>${set(facing.advice)}</p>
        ${facing.svg
          ? html`<div class="paper-drawing" ${ref((/** @type {Element | undefined} */ box) => box && drawn(box, facing.svg ?? "", facing.title))}></div>`
          : nothing}
        ${heads.length
          ? html`<table class="figures small">
              <thead><tr>${heads.map((head) => html`<th scope="col">${head.replaceAll("_", " ")}</th>`)}</tr></thead>
              <tbody>${facing.rows.map((row) => html`<tr>${heads.map((head) => html`<td>${set(String(row[head] ?? ""))}</td>`)}</tr>`)}</tbody>
            </table>`
          : nothing}
        <p class="small soft aside">True on paper. Steam and irons scald: try it on a swatch first, with the usual care.</p>
      </article>`;
    })}
  </div>`;
}
