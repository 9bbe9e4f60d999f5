// The plan: ticket down the left, picture in the middle, reckoning at the foot.

import { html, nothing } from "../../vendor/lit-html.js";
import { choiceList } from "../parts/sentence.js";
import * as state from "../state.js";
import { pictureArea } from "./picture.js";
import { reckoning } from "./reckoning.js";
import { capital, set } from "../words.js";
import { ticket } from "./ticket.js";

/** @param {import("../types.js").Commission} commission */
export function planView(commission) {
  return html`<div class="plan-view">
    <section class="ticket" aria-label="Ticket">${ticket(commission)}</section>
    <section class="picture" aria-label="Picture">
      ${commission.plan ? pictureArea(commission) : cannot(commission)}
    </section>
    <section class="reckoning" aria-label="Reckoning">${commission.plan ? reckoning(commission) : nothing}</section>
    ${choiceList()}
  </div>`;
}

/** @param {import("../types.js").Commission} commission */
function cannot(commission) {
  const wrong = commission.findings.filter((finding) => finding.weight === "refused");
  return html`<div class="cannot">
    <h2>Not yet to be planned</h2>
    <ul class="findings">
      ${wrong.map(
        (finding) => html`<li>
          <span class="fault">${set(capital(state.said(finding)))}</span>
          ${link(commission, finding)}
        </li>`,
      )}
    </ul>
  </div>`;
}

/** Returns the way to the field that a finding speaks of. @param {import("../types.js").Commission} commission
 * @param {import("../types.js").Finding} finding */
export function link(commission, finding) {
  const field = finding.field ?? finding.where ?? "";
  if (field.includes("measurements")) return html`<a href="#/${commission.id}/measurements">to the measurements</a>`;
  if (field.includes("cloths")) return html`<a href="#/${commission.id}/cloth">to the cloth</a>`;
  return nothing;
}
