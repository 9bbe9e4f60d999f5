// @ts-check
// The page: reads the state, draws the view that the address names, and listens to the keys that work everywhere.

import { effect, signal } from "../vendor/signals-core.js";
import { html, nothing, render } from "../vendor/lit-html.js";
import * as state from "./state.js";
import { isBeingTyped, shows } from "./parts/fields.js";
import * as icons from "./parts/icons.js";
import { startView } from "./views/start.js";

const showsHistory = signal(false);

/** The views of a commission, which the first screen does without. */
const views = signal(/** @type {typeof import("./views/all.js") | null} */ (null));

/** @type {Record<string, string>} */
const tabs = { measurements: "Measurements", cloth: "Cloth", plan: "Plan", sheets: "Sheets" };

const mark = html`<svg viewBox="0 0 32 32" aria-hidden="true" class="emblem">
  <g class="warp"><rect x="8" y="3" width="6" height="26" /><rect x="21" y="3" width="2.5" height="26" /></g>
  <g class="weft"><rect x="3" y="8" width="26" height="6" /><rect x="3" y="21" width="26" height="2.5" /></g>
  <rect class="edge" x="1.5" y="1.5" width="29" height="29" rx="4" />
</svg>`;

function lightButton() {
  const dark =
    state.light.value === "dark" ||
    (state.light.value === "system" && matchMedia("(prefers-color-scheme: dark)").matches);
  return html`<button
    class="button bare icon"
    aria-label=${dark ? "Light page" : "Dark page"}
    title=${dark ? "Light page" : "Dark page"}
    @click=${() => state.setLight(dark ? "light" : "dark")}
  >
    ${dark ? icons.sun : icons.moon}
  </button>`;
}

/** @param {import("./types.js").Commission} commission */
function head(commission) {
  const { tab } = state.place.value;
  return html`<header class="head">
    <a class="mark" href="#/" title="All commissions">${mark}<span class="out-of-sight">Settwright: all commissions</span></a>
    <input
      class="title"
      aria-label="Title of the commission"
      ${shows(commission.title)}
      @change=${(/** @type {Event} */ event) => {
        const field = /** @type {HTMLInputElement} */ (event.target);
        if (field.value.trim()) void state.change([{ set: "title", to: field.value.trim() }]);
        else field.value = commission.title;
      }}
    />
    <nav class="segments" aria-label="The commission">
      ${Object.entries(tabs).map(
        ([name, says]) =>
          html`<a href="#/${commission.id}/${name}" aria-current=${name === tab ? "page" : nothing}>${says}</a>`,
      )}
    </nav>
    <div class="tools">
      <span class="saved">${state.saving.value ? "saving…" : "all kept"}</span>
      <button
        class="button bare icon"
        ?disabled=${!commission.undo}
        aria-label=${commission.undo ? `Undo: ${commission.undo}` : "Nothing to undo"}
        title=${commission.undo ? `Undo: ${commission.undo} (Ctrl+Z)` : "Nothing to undo"}
        @click=${() => state.step("undo")}
      >
        ${icons.undo}
      </button>
      <button
        class="button bare icon"
        ?disabled=${!commission.redo}
        aria-label=${commission.redo ? `Do again: ${commission.redo}` : "Nothing to do again"}
        title=${commission.redo ? `Do again: ${commission.redo} (Ctrl+Y)` : "Nothing to do again"}
        @click=${() => state.step("redo")}
      >
        ${icons.redo}
      </button>
      <button
        class="button bare icon"
        aria-label="Versions"
        title="Versions: what stood before, and names for it"
        aria-haspopup="dialog"
        @click=${() => (showsHistory.value = true)}
      >
        ${icons.shelf}
      </button>
      ${lightButton()}
    </div>
  </header>`;
}

function page() {
  const { id, tab } = state.place.value;
  const commission = state.commission.value;
  const message = state.message.value;
  const toast = message
    ? html`<p class="word-of ${message.wrong ? "wrong" : ""}">${message.wrong ? "✗ " : ""}${message.text}</p>`
    : nothing;
  if (!id) {
    return html`<header class="head">
        <a class="mark" href="#/" aria-current="page">${mark} Settwright</a>
        <div class="tools">${lightButton()}</div>
      </header>
      <main id="main" tabindex="-1">${startView()} ${toast}</main>`;
  }
  const shown = views.value;
  if (!shown || !commission || commission.id !== id) {
    return html`<header class="head"><a class="mark" href="#/">${mark} Settwright</a></header>
      <main id="main"><p class="leaf soft">Opening…</p> ${toast}</main>`;
  }
  return html`<a class="skip" href="#main" @click=${skip}>To the content</a>
    ${head(commission)}
    <main id="main" tabindex="-1" class=${tab}>${shown.tabs[tab]?.(commission)} ${toast}</main>
    ${showsHistory.value ? shown.historySheet(commission, () => (showsHistory.value = false)) : nothing}`;
}

/** @param {Event} event */
function skip(event) {
  event.preventDefault();
  document.getElementById("main")?.focus();
}

addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  if (isBeingTyped(event.target)) return; // there the browser's own undo is meant
  const key = event.key.toLowerCase();
  if (key === "z" && !event.shiftKey) void state.step("undo");
  else if (key === "y" || (key === "z" && event.shiftKey)) void state.step("redo");
  else return;
  event.preventDefault();
});

effect(() => {
  const { id } = state.place.value;
  const title = id ? state.commission.value?.title : undefined;
  document.title = title ? `${title} · Settwright` : "Settwright";
});
document.getElementById("page")?.replaceChildren();
effect(() => {
  render(page(), /** @type {HTMLElement} */ (document.getElementById("page")));
});

async function loadViews() {
  views.value = await import("./views/all.js");
}

const started = state.loadStart();
if (state.place.value.id) {
  void state.open(state.place.value.id);
  void loadViews();
} else void started.then(loadViews);
