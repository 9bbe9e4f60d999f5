// What stood before: every change with its words, names for versions, and the way back to any of them.

import { html, nothing, repeat } from "../../vendor/lit-html.js";
import { sheet } from "../parts/sheet.js";
import * as state from "../state.js";

/** @typedef {{revision: number, at: string, says: string, is_head: boolean, name: string | null}} Revision */

/** @param {import("../types.js").Commission} commission @param {() => void} close */
export function historySheet(commission, close) {
  const named = commission.versions.map((version) => version.name).join();
  const path = `/api/commissions/${commission.id}/history?at=${commission.revision}-${encodeURIComponent(named)}`;
  const found = state.derived(path, /** @type {{revisions: Revision[]}} */ ({ revisions: [] }));
  return sheet({
    title: "Versions",
    close,
    content: html`<p class="soft">Every change is kept. Give a name to what you may want to come back to.</p>
      <form
        class="row name-version"
        @submit=${(/** @type {Event} */ event) => {
          event.preventDefault();
          const form = /** @type {HTMLFormElement} */ (event.target);
          const name = String(new FormData(form).get("name") ?? "").trim();
          if (name) void state.nameVersion(name).then(() => form.reset());
        }}
      >
        <input class="field" name="name" maxlength="80" aria-label="A name for this version" placeholder="as shown to the client" />
        <button class="button">Name this version</button>
      </form>
      <ol class="history">
        ${found
          ? repeat(
              found.revisions,
              (one) => one.revision,
              (one) => html`<li class=${one.is_head ? "now" : ""}>
                <span class="what">${one.name ? html`<strong>${one.name}</strong> · ` : nothing}${one.says}</span>
                <time class="small soft" datetime=${one.at}>${moment(one.at)}</time>
                ${one.is_head
                  ? html`<span class="small aside">as it stands</span>`
                  : html`<button class="button small" @click=${() => state.restore(one.revision)}>Go back to this</button>`}
              </li>`,
            )
          : html`<li class="soft">Looking…</li>`}
      </ol>
      <p>
        <a class="button" href="/api/commissions/${commission.id}/commission.toml" download>The commission as a file</a>
      </p>`,
  });
}

/** @param {string} at */
function moment(at) {
  const date = new Date(at);
  return Number.isNaN(date.valueOf())
    ? at
    : date.toLocaleString(undefined, { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });
}
