// What is printed and taken along: workbook, full-size sheets, layouts, drawings for other programs.

import { html, nothing } from "../../vendor/lit-html.js";
import * as state from "../state.js";

/** @typedef {{name: string, shows: string, group: string}} File */

/** @param {import("../types.js").Commission} commission */
export function sheetsView(commission) {
  const key = commission.plan;
  if (!key) {
    return html`<div class="leaf"><h1>Sheets</h1>
      <p class="notice wrong">The commission can't be planned yet; the <a href="#/${commission.id}/plan">plan</a> says why.</p></div>`;
  }
  const path = `/api/plans/${key}/files`;
  const found = state.derived(path, /** @type {{files: File[]}} */ ({ files: [] }));
  const wrong = state.wrongAt(path);
  /** @type {Map<string, File[]>} */
  const groups = new Map();
  for (const file of found?.files ?? []) groups.set(file.group, [...(groups.get(file.group) ?? []), file]);
  return html`<div class="leaf sheets-view">
    <div class="row spread">
      <h1>Sheets to print</h1>
      ${found ? html`<a class="button main" href="/api/plans/${key}/files/all.zip" download>All of them in one file</a>` : nothing}
    </div>
    <p class="soft">
      Print full-size sheets at 100 %, without “fit to page”, and measure the test square before you cut: what is true on
      paper doesn't yet count cutting and sewing.
    </p>
    ${wrong
      ? html`<p class="notice wrong">${wrong.findings.map(state.said).join(" ") || wrong.message}</p>`
      : found
        ? [...groups].map(
            ([group, files]) => html`<section>
              <h2 class="group">${group}</h2>
              <ul class="files">
                ${files.map(
                  (file) => html`<li>
                    <a href="/api/plans/${key}/files/${encodeURIComponent(file.name)}" download=${file.name}>
                      <span class="kind caps">${kind(file.name)}</span>
                      <span><strong>${file.shows}</strong><br /><span class="small soft">${file.name}</span></span>
                    </a>
                  </li>`,
                )}
              </ul>
            </section>`,
          )
        : html`<p class="soft" role="status">${state.working.value?.says ?? "Making the sheets"}…</p>`}
    <hr class="seam" />
    <p class="row">
      <a class="button" href="/api/commissions/${commission.id}/commission.toml" download>The commission as a file</a>
      <span class="small soft">to keep, to send, or to open on another machine</span>
    </p>
  </div>`;
}

/** @param {string} name */
function kind(name) {
  return name.split(".").at(-1) ?? "";
}
