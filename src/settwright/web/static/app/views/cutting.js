// Marking pieces as cut: from then on each keeps its outline, its place and its bars, and only what is uncut is worked
// out anew.

import { signal } from "../../vendor/signals-core.js";
import { html, nothing } from "../../vendor/lit-html.js";
import { sheet } from "../parts/sheet.js";
import * as state from "../state.js";
import { capital } from "../words.js";

const isOpen = signal(false);
const chosen = signal(/** @type {ReadonlySet<string>} */ (new Set()));

/** The button that opens the list, and the list. @param {import("../types.js").Report} report @param {string} cloth */
export function cutting(report, cloth) {
  const uncut = Object.entries(report.pieces).filter(([, piece]) => piece.cloth === cloth && !piece.is_cut);
  if (!uncut.length) return nothing;
  const open = () => {
    chosen.value = new Set();
    isOpen.value = true;
  };
  return html`<button class="button small" aria-haspopup="dialog" @click=${open}>Mark as cut…</button>
    ${isOpen.value ? list(uncut) : nothing}`;
}

/** @param {[string, import("../types.js").PieceSaid][]} uncut */
function list(uncut) {
  /** @param {string} name @param {boolean} isChosen */
  const choose = (name, isChosen) => {
    const next = new Set(chosen.value);
    if (isChosen) next.add(name);
    else next.delete(name);
    chosen.value = next;
  };
  const keep = async () => {
    const pieces = [...chosen.value];
    if (await state.change([{ cut: { pieces } }])) {
      isOpen.value = false;
      state.tell(pieces.length === 1 ? "One piece is marked as cut." : `${pieces.length} pieces are marked as cut.`);
    }
  };
  return sheet({
    title: "What is cut",
    close: () => (isOpen.value = false),
    content: html`<p class="soft">
        A piece that is cut keeps its outline, its place on the cloth and its bars. A later correction can only use its
        allowances; what is uncut follows it.
      </p>
      <ul class="cut-list">
        ${uncut.map(
          ([name, piece]) => html`<li>
            <label class="check"
              ><input
                type="checkbox"
                .checked=${chosen.value.has(name)}
                @change=${(/** @type {Event} */ event) => choose(name, /** @type {HTMLInputElement} */ (event.target).checked)}
              />
              ${capital(piece.title)}</label
            >
          </li>`,
        )}
      </ul>
      <div class="row">
        <button class="button main" ?disabled=${chosen.value.size === 0} @click=${keep}>They are cut</button>
        <button class="button small" @click=${() => (chosen.value = new Set(uncut.map(([name]) => name)))}>All of them</button>
      </div>`,
  });
}
