// The measurements: fields on the left in the order of the tape, the drawing on the right; the field that has the
// focus is lit in the drawing, and a touch on the drawing goes to its field. What isn't measured stands there in
// grey as an estimate.

import { signal } from "../../vendor/signals-core.js";
import { html, nothing, ref, repeat } from "../../vendor/lit-html.js";
import { shows } from "../parts/fields.js";
import { fault, faultId } from "../parts/sentence.js";
import * as state from "../state.js";
import { capital, set } from "../words.js";
import { fittings } from "./fittings.js";

const GROUPS = /** @type {Record<string, string>} */ ({ measures: "On the body", departures: "Not even, not upright" });

const lit = signal(/** @type {string | null} */ (null));

/** @param {import("../types.js").Commission} commission */
export function measurementsView(commission) {
  const path = `/api/commissions/${commission.id}/measurements?revision=${commission.revision}`;
  const found = state.derived(path, /** @type {import("../types.js").Measurements} */ ({}));
  if (found) last = { id: commission.id, found };
  const shown = found ?? (last?.id === commission.id ? last.found : null);
  if (!shown) return html`<p class="leaf soft">Taking out the tape…</p>`;
  /** @type {Map<string, import("../types.js").Measure[]>} */
  const groups = new Map();
  for (const measure of shown.measures) groups.set(measure.group, [...(groups.get(measure.group) ?? []), measure]);
  const now = shown.measures.find((measure) => measure.name === lit.value);
  const estimated = shown.measures.filter((measure) => measure.is_estimate && measure.said).length;
  const asInches = commission.units === "inches";
  return html`<div class="leaf measure-view">
    <section class="measure-fields" aria-labelledby="measuring">
      <div class="row spread">
        <h1 id="measuring">Measurements</h1>
        <div class="segments" role="group" aria-label="Units">
          <button aria-pressed=${!asInches} @click=${() => asInches && state.change([{ measure_in: "cm" }])}>cm</button>
          <button aria-pressed=${asInches} @click=${() => asInches || state.change([{ measure_in: "inches" }])}>inches</button>
        </div>
      </div>
      <label class="client"
        >For
        <input
          class="field"
          maxlength="120"
          placeholder="the client's name"
          ${shows(commission.values["client"]?.name ?? "")}
          @change=${(/** @type {Event} */ event) => name(/** @type {HTMLInputElement} */ (event.target).value.trim())}
        />
      </label>
      <p class="soft small">
        Write a figure as you say it: ${asInches ? set("38 1/2, 38.5 or 97 cm") : "97,5 or 97.5, or 38 1/2 in"}.
        ${estimated
          ? html`<em>${estimated === 1 ? "One is" : `${estimated} are`} estimated and stand in grey: good for a toile, until
              measured.</em>`
          : nothing}
      </p>
      ${repeat(
        [...groups],
        ([group]) => group,
        ([group, measures]) => html`<h2 class="group">${GROUPS[group] ?? capital(group)}</h2>
          ${group === "departures" ? html`<p class="small soft">Leave these out for a figure that is even and upright.</p>` : nothing}
          <ul class="measures">
            ${repeat(
              measures,
              (measure) => measure.name,
              (measure) => line(measure),
            )}
          </ul>`,
      )}
      ${fittings(commission, shown.correctable)}
    </section>
    <aside class="measure-drawing">
      <div class="drawing paper-drawing" @click=${touched} ${ref((/** @type {Element | undefined} */ box) => box && draw(box, shown.svg))}></div>
      <p class="how" aria-hidden="true">
        ${now
          ? html`<strong>${now.number}. ${capital(now.title)}.</strong> ${now.how}
              ${now.is_estimate && now.by ? html`<em class="soft">Estimated ${now.by}.</em>` : nothing}`
          : html`<span class="soft">Go to a field, or touch a line of the drawing, to see where it is taken.</span>`}
      </p>
    </aside>
  </div>`;
}
let last = /** @type {{id: string, found: import("../types.js").Measurements} | null} */ (null);

/** @param {string} written */
function name(written) {
  void state.change([written ? { set: "client.name", to: written } : { take_out: "client.name" }]);
}

/** @param {import("../types.js").Measure} measure */
function line(measure) {
  const field = `measurements.${measure.name}`;
  const id = `measure-field-${measure.name}`;
  const written = measure.written === null ? "" : String(measure.written);
  const isWrong = field in state.faults.value;
  /** @param {HTMLInputElement} input */
  const take = (input) => {
    const typed = input.value.trim();
    if (typed === written && !isWrong) return;
    if (typed === written) {
      state.forget(field);
      return;
    }
    void state.change([typed ? { set: field, to: typed } : { take_out: field }], field);
  };
  return html`<li class="measure ${lit.value === measure.name ? "lit" : ""}">
    <span class="number figures" aria-hidden="true">${measure.number}</span>
    <label for=${id}>${capital(measure.title)}${measure.is_needed ? html`<span class="needed">needed</span>` : nothing}</label>
    <input
      id=${id}
      class="field figures"
      data-field=${field}
      autocomplete="off"
      maxlength="40"
      placeholder=${measure.said && measure.is_estimate ? measure.said : ""}
      aria-describedby="${id}-how ${isWrong ? faultId(field) : ""}"
      aria-invalid=${isWrong ? "true" : "false"}
      ${shows(written)}
      @focus=${(/** @type {Event} */ event) => {
        lit.value = measure.name;
        /** @type {HTMLInputElement} */ (event.target).select();
      }}
      @change=${(/** @type {Event} */ event) => take(/** @type {HTMLInputElement} */ (event.target))}
      @keydown=${(/** @type {KeyboardEvent} */ event) => pressed(event, written, field)}
    />
    <span class="out-of-sight" id="${id}-how"
      >${measure.how} ${measure.is_estimate && measure.said ? `Estimated ${measure.by}: ${measure.said}.` : ""}</span
    >
    ${fault(field)}
  </li>`;
}

/** Enter takes a figure and goes on to the next, as one writes down a list. @param {KeyboardEvent} event
 * @param {string} written @param {string} field */
function pressed(event, written, field) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  if (event.key === "Escape") {
    input.value = written;
    state.forget(field);
  } else if (event.key === "Enter" || event.key === "ArrowDown" || event.key === "ArrowUp") {
    event.preventDefault();
    const all = /** @type {HTMLInputElement[]} */ ([...document.querySelectorAll(".measures input")]);
    const to = all[all.indexOf(input) + (event.key === "ArrowUp" ? -1 : 1)];
    if (to) to.focus();
    else input.blur();
  }
}

/** Puts the drawing in once and lights the measure that has the focus. @param {Element} box @param {string} drawing */
function draw(box, drawing) {
  if (drawnIn.get(box) !== drawing) {
    box.innerHTML = drawing;
    drawnIn.set(box, drawing);
    const svg = box.querySelector("svg");
    svg?.setAttribute("role", "img");
    svg?.setAttribute("aria-label", "Where each measurement is taken; the words stand beside each field");
  }
  box.classList.toggle("has-lit", lit.value !== null);
  for (const group of box.querySelectorAll("g[id^='measure-']")) {
    group.classList.toggle("lit", group.id === `measure-${lit.value}`);
  }
}
/** @type {WeakMap<Element, string>} */
const drawnIn = new WeakMap();

/** @param {Event} event */
function touched(event) {
  const group = /** @type {Element} */ (event.target).closest("g[id^='measure-']");
  if (group) document.getElementById(`measure-field-${group.id.slice("measure-".length)}`)?.focus();
}
