// The fittings: when, what was seen, and what the next plan is to draft otherwise.

import { html, nothing } from "../../vendor/lit-html.js";
import { shows } from "../parts/fields.js";
import { fault, faultId } from "../parts/sentence.js";
import * as state from "../state.js";
import { capital } from "../words.js";

/** @typedef {{name: string, title: string}} Correctable */

/** @param {import("../types.js").Commission} commission @param {Correctable[]} correctable */
export function fittings(commission, correctable) {
  const all = /** @type {Record<string, any>[]} */ (commission.values["fittings"] ?? []);
  return html`<h2 class="group">Fittings</h2>
    <p class="small soft">
      What is corrected here is drafted in the next plan: so much more, with a minus less. When you measure anew, take the
      correction out. What was seen is kept as a note; no draft follows it.
    </p>
    <ol class="fittings">
      ${all.map((one, index) => fitting(one, index, correctable))}
    </ol>
    ${fault("fittings")}
    <button class="button small" @click=${() => state.change([{ set: "fittings", to: [...all, { date: today() }] }])}>
      Enter a fitting
    </button>`;
}

function today() {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
}

/** @param {Record<string, any>} one @param {number} index @param {Correctable[]} correctable */
function fitting(one, index, correctable) {
  const path = `fittings.${index}`;
  const corrections = flat(one["corrections"] ?? {});
  const known = new Map(correctable.map(({ name, title }) => [name, title]));
  const left = correctable.filter(({ name }) => !corrections.some((correction) => correction.name === name));
  return html`<li>
    <div class="row">
      ${field(`${path}.date`, "date", String(one["date"] ?? ""))} ${field(`${path}.note`, "what was seen", String(one["note"] ?? ""))}
    </div>
    <ul>
      ${corrections.map(({ name, keys, by }) => {
        const own = `${path}.corrections.${keys.map(written).join(".")}`;
        return html`<li class="row">
          ${field(own, capital(known.get(name) ?? name), by)}
          <button class="button bare small" aria-label="Take out ${known.get(name) ?? name}" @click=${() => state.change([{ take_out: own }])}>
            take out
          </button>
        </li>`;
      })}
    </ul>
    <div class="row">
      <label class="small"
        >Correct
        <select
          class="field small"
          @change=${(/** @type {Event} */ event) => {
            const chosen = /** @type {HTMLSelectElement} */ (event.target);
            if (chosen.value) void state.change([{ set: `${path}.corrections.${written(chosen.value)}`, to: "0" }]);
            chosen.value = "";
          }}
        >
          <option value="">choose what</option>
          ${left.map(({ name, title }) => html`<option value=${name}>${capital(title)}</option>`)}
        </select></label
      >
      <button class="button bare small" @click=${() => state.change([{ take_out: path }])}>Take this fitting out</button>
    </div>
  </li>`;
}

/** Returns a key as it stands in a path. @param {string} key */
function written(key) {
  return /^[A-Za-z_-][\w-]*$/.test(key) ? key : JSON.stringify(key);
}

/** Returns the corrections one by one, those written in sections too. @param {Record<string, any>} given
 * @param {string[]} before @returns {{name: string, keys: string[], by: string}[]} */
function flat(given, before = []) {
  return Object.entries(given).flatMap(([key, value]) => {
    const keys = [...before, key];
    return typeof value === "object" ? flat(value, keys) : [{ name: keys.join("."), keys, by: String(value) }];
  });
}

/** @param {string} path @param {string} title @param {string} kept */
function field(path, title, kept) {
  const id = `field-${path.replace(/[^a-z0-9]+/gi, "-")}`;
  const isWrong = path in state.faults.value;
  return html`<label class="small" for=${id}>${title}</label>
    <input
      id=${id}
      class="field small figures"
      maxlength="200"
      autocomplete="off"
      aria-invalid=${isWrong ? "true" : "false"}
      aria-describedby=${isWrong ? faultId(path) : nothing}
      ${shows(kept)}
      @change=${(/** @type {Event} */ event) => {
        const typed = /** @type {HTMLInputElement} */ (event.target).value.trim();
        if (typed === kept) state.forget(path);
        else void state.change([typed ? { set: path, to: typed } : { take_out: path }], path);
      }}
    />
    ${fault(path)}`;
}
