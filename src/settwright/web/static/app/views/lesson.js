// The drafting record: each figure with its steps, one at a time, every figure with the rule that gave it.

import { signal } from "../../vendor/signals-core.js";
import { html, nothing, ref } from "../../vendor/lit-html.js";
import * as state from "../state.js";
import { capital, set } from "../words.js";

/** @typedef {{name: string, rule: string, numbers: [string, string][], value: string, source: string}} Step */
/** @typedef {{drafts: {name: string, figures: {title: string, steps: Step[], svg: string | null}[]}[]}} Lesson */

const at = signal(0);
const step = signal(0);

/** @param {string} key */
export function lessonView(key) {
  const found = state.derived(`/api/plans/${key}/lesson`, /** @type {Lesson} */ ({ drafts: [] }));
  if (!found) return html`<p class="waiting-note" role="status">Opening the drafting record…</p>`;
  const figures = found.drafts.flatMap((draft) => draft.figures.map((figure) => ({ ...figure, draft: draft.name })));
  if (!figures.length) return html`<p class="waiting-note">No record for this draft.</p>`;
  const now = figures[Math.min(at.value, figures.length - 1)];
  if (!now) return nothing;
  const steps = now.steps;
  const chosen = Math.min(step.value, Math.max(0, steps.length - 1));
  const one = steps[chosen];
  return html`<div class="lesson">
    <div class="lesson-steps">
      <label class="small">Figure
        <select class="field" @change=${(/** @type {Event} */ event) => {
          at.value = Number(/** @type {HTMLSelectElement} */ (event.target).value);
          step.value = 0;
        }}>
          ${figures.map((figure, index) => html`<option value=${index} ?selected=${index === at.value}>${index + 1}. ${capital(figure.draft)}: ${figure.title.toLowerCase()}</option>`)}
        </select>
      </label>
      <div class="row">
        <button class="button small" ?disabled=${chosen === 0 && at.value === 0} @click=${() => walk(-1, figures)}>Back</button>
        <span class="small figures">${steps.length ? `step ${chosen + 1} of ${steps.length}` : "as it stands"}</span>
        <button class="button small" ?disabled=${chosen >= steps.length - 1 && at.value >= figures.length - 1} @click=${() => walk(1, figures)}>Next</button>
      </div>
      ${one
        ? html`<div class="step-now" role="status">
            <h3>${capital(one.name)}</h3>
            <p>${set(one.rule)}</p>
            ${one.numbers.length
              ? html`<ul class="figures small numbers">${one.numbers.map(([name, value]) => html`<li><span>${name}</span> <span>${set(value)}</span></li>`)}</ul>`
              : nothing}
            ${one.value ? html`<p class="figures result">= ${set(one.value)}</p>` : nothing}
            ${one.source ? html`<p class="small soft aside">${one.source}</p>` : nothing}
          </div>`
        : nothing}
      <ol class="step-list small">
        ${steps.map(
          (each, index) => html`<li><button class="step" aria-current=${index === chosen ? "step" : nothing} @click=${() => (step.value = index)}>${capital(each.name)} <span class="soft figures">${set(each.value)}</span></button></li>`,
        )}
      </ol>
    </div>
    ${now.svg
      ? html`<div class="lesson-drawing paper-drawing" ${ref((/** @type {Element | undefined} */ box) => box && drawn(box, now.svg ?? "", `${now.draft}: ${now.title}`))}></div>`
      : html`<p class="waiting-note">Only figures are worked out here; the drawing goes on with them in a later figure.</p>`}
  </div>`;
}

/** Goes one step on or back, over the ends of figures. @param {number} by @param {readonly {steps: Step[]}[]} figures */
function walk(by, figures) {
  const last = (figures[at.value]?.steps.length ?? 1) - 1;
  if (by > 0 && step.value >= last) {
    at.value = Math.min(figures.length - 1, at.value + 1);
    step.value = 0;
  } else if (by < 0 && step.value <= 0) {
    at.value = Math.max(0, at.value - 1);
    step.value = Math.max(0, (figures[at.value]?.steps.length ?? 1) - 1);
  } else step.value += by;
}

/** Puts a drawing of the server's into a box, once. @param {Element} box @param {string} drawing @param {string} title */
export function drawn(box, drawing, title) {
  if (shown.get(box) === drawing) return;
  shown.set(box, drawing);
  box.innerHTML = drawing;
  const svg = box.querySelector("svg");
  svg?.setAttribute("role", "img");
  svg?.setAttribute("aria-label", title);
}
/** @type {WeakMap<Element, string>} */
const shown = new WeakMap();
