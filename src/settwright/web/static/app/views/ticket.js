// The ticket: the commission in sentences, and what is to be known before cutting.

import { html, nothing, repeat } from "../../vendor/lit-html.js";
import { sentence } from "../parts/sentence.js";
import * as state from "../state.js";
import { set } from "../words.js";
import { link } from "./plan.js";

const WEIGHTS = /** @type {const} */ ({
  refused: "In the way",
  caution: "Mind this",
  estimated: "Estimated, good for a toile",
  default: "Left to custom",
  note: "Noted",
});

/** @param {import("../types.js").Commission} commission */
export function ticket(commission) {
  const estimates = findings(commission).filter((finding) => finding.weight === "estimated").length;
  return html`<div class="tag-hole" aria-hidden="true"></div>
    <h1 class="ticket-title">${commission.title || "Without a title"}</h1>
    <p class="for">
      ${commission.client ? html`for ${commission.client}` : html`<span class="soft">for nobody yet</span>`}
      · <a href="#/${commission.id}/measurements">${estimates ? `${estimates} measurements estimated` : "measurements"}</a>
    </p>
    ${repeat(
      commission.ticket,
      (section) => section.title,
      (section) => html`<h2 class="group">${section.title}</h2>
        <ul class="sentences">
          ${repeat(section.sentences, (one) => one.id, sentence)}
        </ul>`,
    )}
    ${toKnow(commission)}`;
}

/** @param {import("../types.js").Commission} commission @returns {import("../types.js").Finding[]} */
function findings(commission) {
  const planned = state.report.value?.findings;
  return planned?.length ? planned : commission.findings;
}

/** @param {import("../types.js").Commission} commission */
function toKnow(commission) {
  const all = findings(commission);
  if (!all.length) return nothing;
  return html`<h2 class="group">To know before cutting</h2>
    ${Object.entries(WEIGHTS).map(([weight, title]) => {
      const these = all.filter((finding) => finding.weight === weight);
      if (!these.length) return nothing;
      return html`<details class="to-know ${weight}" ?open=${weight === "refused" || (weight === "caution" && these.length < 4)}>
        <summary>${title} <span class="soft figures">${these.length}</span></summary>
        <ul class="findings small">
          ${these.map(
            (finding) => html`<li>
              <span class="soft">${where(finding)}:</span> ${set(state.said(finding))} ${link(commission, finding)}
            </li>`,
          )}
        </ul>
      </details>`;
    })}`;
}

/** @param {import("../types.js").Finding} finding */
function where(finding) {
  return finding.where.replace(/^(measurements|cloths|jacket|skirt|choices)\./, "").replace(/[_.-]/g, " ");
}
