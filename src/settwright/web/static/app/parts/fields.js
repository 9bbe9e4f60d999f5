// What stands in a field. A field shows what is kept, but never takes away what is just being typed: while the hand is
// in it and it differs from what was kept, or while it is refused, it is left alone.

import { ref } from "../../vendor/lit-html.js";

/** Lets a field show what is kept. @param {string} kept @param {boolean} [isRefused] */
export function shows(kept, isRefused = false) {
  return ref((/** @type {Element | undefined} */ element) => {
    if (!(element instanceof HTMLInputElement || element instanceof HTMLTextAreaElement)) return;
    const before = element.dataset["kept"] ?? "";
    const isTyped = element === document.activeElement && element.value !== before;
    if (!isTyped && !isRefused && element.value !== kept) element.value = kept;
    element.dataset["kept"] = kept;
  });
}

/** Whether something is typed in a field that isn't kept yet. @param {EventTarget | null} field */
export function isBeingTyped(field) {
  return (
    (field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement) &&
    field.type !== "checkbox" &&
    field.value !== (field.dataset["kept"] ?? "")
  );
}
