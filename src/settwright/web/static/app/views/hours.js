// Her own times and prices: what there is to do by hand, a field for each time, and the bill. Nothing is guessed.

import { html, nothing, repeat } from "../../vendor/lit-html.js";
import { get } from "../api.js";
import { shows } from "../parts/fields.js";
import { faultId } from "../parts/sentence.js";
import * as state from "../state.js";
import { capital, set } from "../words.js";

/** @typedef {import("../types.js").Commission} Commission */
/** @typedef {import("../types.js").HoursSaid} HoursSaid */
/** @typedef {import("../types.js").HoursRow} HoursRow */

/** Returns her hours for a plan; what was told last while the next is worked out. @param {Commission} commission
 * @returns {HoursSaid | null} */
export function hoursOf(commission) {
  const found = state.derived(`/api/plans/${commission.plan}/hours`, /** @type {HoursSaid} */ ({}));
  if (found) last = { id: commission.id, found };
  return found ?? (last?.id === commission.id ? last.found : null);
}
let last = /** @type {{id: string, found: HoursSaid} | null} */ (null);

/** Returns what is written in the file at a path. @param {unknown} values @param {readonly string[]} keys */
function written(values, keys) {
  let found = /** @type {any} */ (values);
  for (const key of keys) found = found?.[key];
  return found === undefined || found === null ? "" : String(found);
}

/** A field for a figure of hers; left empty it is blank again. @param {string} field @param {string} value
 * @param {string} label @param {string} [unit] */
function figure(field, value, label, unit = "min") {
  const wrong = state.faults.value[field];
  /** @param {Event} event */
  const take = (event) => {
    const typed = /** @type {HTMLInputElement} */ (event.target).value.trim();
    if (typed === value) state.forget(field);
    else void state.change([typed ? { set: field, to: typed } : { take_out: field }], field);
  };
  return html`<span class="own-figure"
      ><input
        class="field figures"
        data-field=${field}
        inputmode="decimal"
        autocomplete="off"
        maxlength="12"
        size="5"
        aria-label=${label}
        aria-invalid=${wrong ? "true" : "false"}
        aria-describedby=${wrong ? faultId(field) : nothing}
        ${shows(value)}
        @change=${take}
      />
      <span class="soft">${unit}</span></span
    >${wrong ? html`<span class="fault" id=${faultId(field)}>${state.said(wrong)}</span>` : nothing}`;
}

/** @param {Commission} commission */
export function hoursDrawer(commission) {
  const hours = hoursOf(commission);
  if (!hours) return html`<p class="soft" role="status">Counting the stitches…</p>`;
  /** @param {"stitches" | "each" | "steps"} section @param {string} title @param {string} amount @param {string} own */
  const table = (section, title, amount, own) =>
    hours[section].length
      ? html`<table class="figures small own-times">
          <caption class="caps">${title}</caption>
          <thead>
            <tr><th scope="col">Work</th><th scope="col">${amount}</th><th scope="col">${own}</th><th scope="col">Comes to</th></tr>
          </thead>
          <tbody>
            ${repeat(
              hours[section],
              (row) => row.field,
              (row) => html`<tr>
                <th scope="row">${capital(row.name)}</th>
                <td>${set(row.amount)}</td>
                <td>${figure(row.field, written(commission.values, ["hours", section, row.name]), `${capital(row.name)}: ${own.toLowerCase()}`)}</td>
                <td>${row.said ?? html`<span class="soft">blank</span>`}</td>
              </tr>`,
            )}
          </tbody>
        </table>`
      : nothing;
  return html`<h3>Your hours</h3>
    <p>
      ${hours.said
        ? html`<strong>${hours.said}</strong>${hours.is_whole ? "." : html`, without ${hours.blanks.join(", ")}.`}`
        : "Blank until you set your own times; nothing is guessed. Time a stretch of your own work and write it here."}
    </p>
    ${hours.said ? nothing : takenOver()}
    <div class="own-times-columns">
      ${table("stitches", "Stitch by stitch", "In this plan", `Minutes for ${hours.per}`)}
      ${table("each", "Fastenings", "How many", "Minutes apiece")}
    </div>
    <details>
      <summary>Whole steps of the order of work, besides their stitching</summary>
      ${table("steps", "Step by step", "Stitching in it", "Minutes besides")}
    </details>`;
}

/** Offers the times of another commission. */
function takenOver() {
  const others = state.start.value?.commissions.filter(({ id }) => id !== state.commission.value?.id) ?? [];
  if (!others.length) return nothing;
  /** @param {Event} event */
  const take = async (event) => {
    const from = /** @type {HTMLSelectElement} */ (event.target);
    const id = from.value;
    from.value = "";
    if (!id) return;
    try {
      const { values } = await get(`/api/commissions/${id}`);
      if (!values.hours) state.tell("No times are set in that commission.");
      else if (await state.change([{ set: "hours", to: values.hours }])) state.tell("Your times are taken over.");
    } catch (error) {
      state.tellError(error);
    }
  };
  return html`<label class="small">Take over those of
    <select class="field small" @change=${take}>
      <option value="">choose a commission</option>
      ${others.map(({ id, title }) => html`<option value=${id}>${title}</option>`)}
    </select>
  </label>`;
}

/** @param {Commission} commission @param {import("../types.js").Reckoning | null} shown */
export function billDrawer(commission, shown) {
  const own = commission.values;
  return html`<h3>What it costs</h3>
    <p>A sum with a blank in it stands as far as it goes. The price of a cloth is set <a href="#/${commission.id}/cloth">with the cloth</a>.</p>
    <p class="row own-prices">
      <span>An hour of your work ${figure("cost.hour", written(own, ["cost", "hour"]), "Price of an hour", written(own, ["currency"]))}</span>
      <span>100 m of thread ${figure("cost.thread_per_100_m", written(own, ["cost", "thread_per_100_m"]), "Price of 100 m of thread", written(own, ["currency"]))}</span>
    </p>
    ${shown?.price
      ? html`<table class="figures small">
          <caption class="out-of-sight">The bill</caption>
          <tbody>
            ${shown.price.lines.map(
              (line) => html`<tr><th scope="row">${line.title}</th><td>${set(line.how)}</td><td>${line.said ?? html`<span class="soft">blank</span>`}</td></tr>`,
            )}
            <tr class="sum"><th scope="row">${shown.price.is_whole ? "In all" : "So far"}</th><td></td><td><strong>${shown.price.said}</strong></td></tr>
          </tbody>
        </table>`
      : shown
        ? html`<p class="soft">No price is set yet.</p>`
        : html`<p class="soft" role="status">The pieces are being laid…</p>`}`;
}

/** The order of work. @param {Commission} commission */
export function orderOfWork(commission) {
  const order = state.derived(`/api/plans/${commission.plan}/order`, /** @type {{steps: {name: string, text: string, caution: string | null}[]}} */ ({ steps: [] }));
  if (!order?.steps?.length) return nothing;
  return html`<h3>The order of work</h3>
    <ol class="order small">
      ${order.steps.map(
        (step) => html`<li><strong>${capital(step.name)}</strong> ${step.text}
          ${step.caution ? html`<em class="caution">${step.caution}</em>` : nothing}</li>`,
      )}
    </ol>`;
}
