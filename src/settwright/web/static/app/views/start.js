// The first view: one's own commissions, a new one, an example, a file.

import { signal } from "../../vendor/signals-core.js";
import { html, nothing, repeat } from "../../vendor/lit-html.js";
import { post } from "../api.js";
import * as state from "../state.js";

const refused = signal(/** @type {import("../api.js").Refused | null} */ (null));
const busy = signal(false);

/** @param {unknown} how */
async function begin(how) {
  if (busy.value) return;
  busy.value = true;
  refused.value = await state.begin(how);
  busy.value = false;
}

/** @param {Event} event */
function beginNew(event) {
  event.preventDefault();
  const form = /** @type {HTMLFormElement} */ (event.target);
  const data = new FormData(form);
  const garments = data.getAll("garment").map(String);
  if (!garments.length) {
    state.tell("Choose at least one garment.", true);
    return;
  }
  void begin({ title: String(data.get("title") || "New commission").trim(), units: data.get("units"), garments });
}

/** @param {Event} event */
async function bringIn(event) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const file = input.files?.[0];
  if (!file) return;
  if (file.size > 900_000) state.tell("That file is too large to be a commission.", true);
  else await begin({ toml: await file.text() });
  input.value = "";
}

/** @param {boolean} add */
async function starter(add) {
  try {
    await post("/api/starter", { add });
    state.tell(add ? "Settwright now stands in your desktop's menu." : "Good; you won't be asked again.");
  } catch (error) {
    state.tellError(error);
  }
  await state.loadStart();
}

/** @param {string} id @param {string} title */
async function putAway(id, title) {
  try {
    await post(`/api/commissions/${id}/put-away`, { away: true });
    state.tell(`“${title}” is put away. Nothing of it is erased.`);
  } catch (error) {
    state.tellError(error);
  }
  await state.loadStart();
}

/** @param {string} when */
function day(when) {
  const date = new Date(when);
  return Number.isNaN(date.valueOf())
    ? when
    : date.toLocaleDateString(undefined, { day: "numeric", month: "long", year: "numeric" });
}

export function startView() {
  const start = state.start.value;
  if (!start) return html`<p class="leaf ${state.shut.value ? "" : "soft"}">${state.shut.value ?? "Opening…"}</p>`;
  return html`<div class="leaf start">
    <div class="start-head">
      <h1>Set right before the first cut</h1>
      <p class="soft">
        You decide; the rest is worked out: the drafted pieces, where every bar falls, how they lie on the cloth, and the
        sheets to cut from. Everything stays on this machine.
      </p>
    </div>
    ${start.offers_starter
      ? html`<div class="notice starter">
          <p>Would you like to find Settwright in your desktop's menu?</p>
          <div class="row">
            <button class="button main" @click=${() => starter(true)}>Put it there</button>
            <button class="button" @click=${() => starter(false)}>No, thank you</button>
          </div>
        </div>`
      : nothing}
    ${refused.value ? refusedFile(refused.value) : nothing}
    <div class="start-columns">
      <section aria-labelledby="own">
        <h2 id="own">On the table</h2>
        ${start.commissions.length
          ? html`<ul class="tickets">
              ${repeat(
                start.commissions,
                (one) => one.id,
                (one) => html`<li class="hang-tag">
                  <a href="#/${one.id}/plan">
                    <span class="tag-title">${one.title || "Without a title"}</span>
                    <span class="small soft"
                      >${[one.client && `for ${one.client}`, one.garments.join(" and ")].filter(Boolean).join(" · ")}</span
                    >
                    <span class="small soft aside">${day(one.changed)}</span>
                  </a>
                  <button
                    class="button bare icon"
                    aria-label="Put away “${one.title}”"
                    title="Put away; nothing is erased"
                    @click=${() => putAway(one.id, one.title)}
                  >
                    <span aria-hidden="true">⌄</span>
                  </button>
                </li>`,
              )}
            </ul>`
          : html`<p class="soft empty">Nothing yet. Begin a commission, or look at an example first.</p>`}
        <label class="button file"
          >Open a commission's file…
          <input type="file" accept=".toml,text/plain" class="out-of-sight" @change=${bringIn} />
        </label>
      </section>
      <section aria-labelledby="new">
        <h2 id="new">A new commission</h2>
        <form class="new" @submit=${beginNew}>
          <label>Title <input class="field" name="title" maxlength="120" placeholder="Plaid suit for the autumn" /></label>
          <fieldset>
            <legend>Garments</legend>
            <label class="check"><input type="checkbox" name="garment" value="jacket" checked /> jacket</label>
            <label class="check"><input type="checkbox" name="garment" value="skirt" checked /> skirt</label>
            <label class="check"><input type="checkbox" name="garment" value="trousers" /> trousers</label>
          </fieldset>
          <fieldset>
            <legend>You measure in</legend>
            <label class="check"><input type="radio" name="units" value="cm" checked /> centimetres</label>
            <label class="check"><input type="radio" name="units" value="inches" /> inches, in fractions</label>
          </fieldset>
          <button class="button main" ?disabled=${busy.value}>Begin</button>
        </form>
        <hr class="seam" />
        <h2>Examples, to look at and change</h2>
        <ul class="examples">
          ${start.examples.map(
            (example) => html`<li>
              <button class="example" ?disabled=${busy.value} @click=${() => begin({ example: example.name })}>
                <span class="tag-title">${example.title}</span>
                <span class="small soft">${example.says}</span>
              </button>
            </li>`,
          )}
        </ul>
      </section>
    </div>
    <p class="small soft foot">
      Needles, shears, irons and steam hurt: keep to the usual care, to your local rules, and to what a qualified hand
      advises.
    </p>
  </div>`;
}

/** @param {import("../api.js").Refused} wrong */
function refusedFile(wrong) {
  return html`<div class="notice wrong" role="alert">
    <h3>${wrong.message}</h3>
    <ul>
      ${wrong.findings
        .filter((finding) => finding.where || !wrong.message.includes(finding.remedy))
        .map((finding) => html`<li>${finding.where ? `${finding.where}: ` : ""}${state.said(finding)}</li>`)}
    </ul>
  </div>`;
}
