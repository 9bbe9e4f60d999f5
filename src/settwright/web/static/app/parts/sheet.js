// A sheet laid over the page: a native dialog, opened when it is drawn and closed by Escape, its button, or outside.
import { html, ref } from "../../vendor/lit-html.js";
import * as icons from "./icons.js";

/** @param {{title: string, close: () => void, content: unknown, wide?: boolean}} of */
export function sheet({ title, close, content, wide = false }) {
  /** @param {Element | undefined} element */
  const shown = (element) => {
    if (element instanceof HTMLDialogElement && !element.open) {
      queueMicrotask(() => element.isConnected && !element.open && element.showModal());
    }
  };
  return html`<dialog
    class=${wide ? "wide" : ""}
    aria-label=${title}
    ${ref(shown)}
    @close=${close}
    @click=${(/** @type {MouseEvent} */ event) => {
      if (event.target === event.currentTarget) /** @type {HTMLDialogElement} */ (event.currentTarget).close();
    }}
  >
    <div class="sheet-head">
      <h2>${title}</h2>
      <button class="button bare icon" aria-label="Close" @click=${close}>${icons.away}</button>
    </div>
    ${content}
  </dialog>`;
}
