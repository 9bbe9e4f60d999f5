// A sentence with its choices set in it. A choice of words opens a small list at the word: a line takes it, the
// button beside it only tries it. A figure is typed where it stands: Enter takes it, Alt and Enter tries it.

import { signal } from "../../vendor/signals-core.js";
import { html, nothing, repeat } from "../../vendor/lit-html.js";
import * as state from "../state.js";
import { set } from "../words.js";
import { shows } from "./fields.js";

/** @typedef {import("../types.js").Choice} Choice */
/** @typedef {import("../types.js").Change} Change */

const opened = signal(/** @type {{choice: Choice, key: string} | null} */ (null));

/** @param {import("../types.js").Sentence} sentence */
export function sentence({ id: said, parts }) {
  const id = said.replace(/[^a-z0-9]+/gi, "-");
  return html`<li class="sentence" id="sentence-${id}">
    ${parts.map((part, index) => (typeof part === "string" ? set(part) : choice(part, `${id}-${index}`)))}
    ${parts.map((part) => (typeof part === "string" ? nothing : fault(part.field)))}
  </li>`;
}

/** @param {string | null} field */
export function fault(field) {
  const found = field ? state.faults.value[field] : undefined;
  return found ? html`<span class="fault" id=${faultId(field ?? "")}>${state.said(found)}</span>` : nothing;
}

/** @param {string} field */
export function faultId(field) {
  return `fault-${field.replace(/[^a-z0-9]+/gi, "-")}`;
}

/** @param {Choice} of @param {string} key */
function choice(of, key) {
  return (of.options?.length || of.bars?.length) ? pick(of, key) : write(of, key);
}

/** @param {Choice} of */
function isTried(of) {
  return state.tried.value?.changes.some((change) => "set" in change && change.set === of.field) ?? false;
}

/** @param {Choice} of @param {string} key */
function pick(of, key) {
  const isOpen = opened.value?.key === key;
  return html`<button
    class="word ${isTried(of) ? "tried" : ""}"
    id="choice-${key}"
    data-field=${of.field ?? nothing}
    aria-haspopup="dialog"
    aria-expanded=${isOpen ? "true" : "false"}
    aria-label="${of.title}: ${of.says}"
    @click=${() => (isOpen ? shut() : show(of, key))}
    @keydown=${(/** @type {KeyboardEvent} */ event) => {
      if (event.key !== "ArrowDown" || isOpen) return;
      event.preventDefault();
      show(of, key);
    }}
  >${set(of.says)}</button>`;
}

/** @param {Choice} of @param {string} key */
function show(of, key) {
  opened.value = { choice: of, key };
  queueMicrotask(() => {
    const list = document.getElementById("choices");
    const word = document.getElementById(`choice-${key}`);
    if (!list || !word) return;
    if (!list.matches(":popover-open")) list.showPopover();
    const rects = word.getClientRects();
    const at = rects[rects.length - 1] ?? word.getBoundingClientRect();
    const { width, height } = list.getBoundingClientRect();
    list.style.left = `${Math.max(8, Math.min(at.left - 8, innerWidth - width - 8))}px`;
    list.style.top = `${at.bottom + height + 8 > innerHeight && at.top > height ? at.top - height - 4 : at.bottom + 4}px`;
    const own = list.querySelector('[aria-current="true"]') ?? list.querySelector("button");
    if (own instanceof HTMLElement) own.focus();
  });
}

function shut() {
  const list = document.getElementById("choices");
  if (list?.matches(":popover-open")) list.hidePopover();
}

/** @param {Choice} of @param {{value?: string, bar?: string, at?: string}} option @returns {Change[]} */
function changes(of, option) {
  if (of.kind === "place" && of.pin) {
    return [{ pin: { ...of.pin, bar: option.bar ?? "", at: option.at ?? "" } }];
  }
  return [{ set: of.field ?? "", to: of.kind === "yes-no" ? option.value === "true" : option.value }];
}

/** The list of the choice that is open; stands once on the page. */
export function choiceList() {
  const now = opened.value;
  /** @param {ToggleEvent} event */
  const toggled = (event) => {
    if (event.newState !== "closed" || !opened.value) return;
    const word = document.getElementById(`choice-${opened.value.key}`);
    const list = /** @type {HTMLElement} */ (event.currentTarget);
    if (list.contains(document.activeElement) || document.activeElement === document.body) word?.focus();
    opened.value = null;
  };
  return html`<div
    id="choices"
    popover
    role="dialog"
    aria-label=${now ? now.choice.title : "Choices"}
    @toggle=${toggled}
    @keydown=${walk}
  >
    ${now ? lines(now.choice, now.key) : nothing}
  </div>`;
}

/** @param {Choice} of @param {string} key */
function lines(of, key) {
  const options = of.bars?.length
    ? of.bars.map((bar) => ({ ...bar, value: `${bar.bar} ${bar.at}`, isOwn: bar.says === of.says }))
    : (of.options ?? []).map((option) => ({ ...option, isOwn: option.value === of.value || option.says === of.says }));
  const shutAnd = (/** @type {() => void} */ act) => () => {
    shut();
    document.getElementById(`choice-${key}`)?.focus();
    act();
  };
  return html`<p class="choices-title">${of.title}</p>
    <ul>
      ${repeat(
        options,
        (option) => option.value,
        (option) => html`<li class="choice-line">
          <button
            class="take"
            aria-current=${option.isOwn ? "true" : "false"}
            @click=${shutAnd(() => !option.isOwn && void state.change(changes(of, option), of.field ?? undefined))}
          >
            <span class="tick" aria-hidden="true">${option.isOwn ? "✓" : ""}</span> ${set(option.says)}
          </button>
          ${option.isOwn
            ? nothing
            : html`<button
                class="try"
                aria-label="Try: ${option.says}"
                @click=${shutAnd(() => void state.tryOut(changes(of, option), `${of.title}: ${option.says}`))}
              >
                try
              </button>`}
        </li>`,
      )}
    </ul>
    ${of.custom || !of.field
      ? nothing
      : html`<button
          class="take custom"
          @click=${shutAnd(() => void state.change([{ take_out: of.field ?? "" }], of.field ?? undefined))}
        >
          <span class="tick"></span>${of.kind === "place" ? "take the pin out" : "leave it to custom"}
        </button>`}`;
}

/** Arrow keys walk the lines; right and left between taking and trying. @param {KeyboardEvent} event */
function walk(event) {
  const list = /** @type {HTMLElement} */ (event.currentTarget);
  const now = /** @type {HTMLElement} */ (document.activeElement);
  const kind = now.classList.contains("try") ? ".try" : ".take";
  const all = /** @type {HTMLElement[]} */ ([...list.querySelectorAll(kind)]);
  const at = all.indexOf(now);
  const line = now.closest(".choice-line");
  /** @type {Element | null | undefined} */
  let to;
  if (event.key === "ArrowDown") to = all[at + 1];
  else if (event.key === "ArrowUp") to = all[at - 1];
  else if (event.key === "Home") to = all[0];
  else if (event.key === "End") to = all.at(-1);
  else if (event.key === "ArrowRight") to = line?.querySelector(".try");
  else if (event.key === "ArrowLeft") to = line?.querySelector(".take");
  else return;
  event.preventDefault();
  if (to instanceof HTMLElement) to.focus();
}

/** @param {Choice} of @param {string} key */
function write(of, key) {
  const field = of.field ?? "";
  const written = of.custom || of.value === null ? "" : String(of.value);
  const isWrong = field in state.faults.value;
  /** @param {HTMLInputElement} input @returns {Change[] | null} */
  const wish = (input) => {
    const typed = input.value.trim();
    if (typed === written.trim() && !isWrong) return null;
    if (!typed) return of.custom ? null : [{ take_out: field }];
    return [{ set: field, to: typed }];
  };
  /** @param {HTMLInputElement} input */
  const take = (input) => {
    const made = wish(input);
    if (made) void state.change(made, field);
    else if (isWrong) {
      state.forget(field);
      input.value = written;
    }
  };
  /** @param {KeyboardEvent} event */
  const pressed = (event) => {
    const input = /** @type {HTMLInputElement} */ (event.target);
    if (event.key === "Enter") {
      event.preventDefault();
      const made = wish(input);
      if (event.altKey && made) void state.tryOut(made, `${of.title}: ${input.value.trim()}`);
      else take(input);
    } else if (event.key === "Escape") {
      input.value = written;
      state.forget(field);
    }
  };
  const unit = of.kind === "length" && written && !/[a-z″"]/i.test(written) ? unitSign() : "";
  return html`<span class="written"
    ><input
      class="word ${isTried(of) ? "tried" : ""}"
      id="choice-${key}"
      data-field=${field}
      aria-label=${of.title}
      title="Enter takes it, Alt and Enter tries it"
      aria-invalid=${isWrong ? "true" : "false"}
      aria-describedby=${isWrong ? faultId(field) : nothing}
      placeholder=${of.says}
      size=${Math.max(3, (written || of.says).length)}
      autocomplete="off"
      maxlength="60"
      ${shows(written)}
      @keydown=${pressed}
      @change=${(/** @type {Event} */ event) => take(/** @type {HTMLInputElement} */ (event.target))} />${unit}</span
  >`;
}

function unitSign() {
  return state.commission.value?.units === "inches" ? " in" : " cm";
}
