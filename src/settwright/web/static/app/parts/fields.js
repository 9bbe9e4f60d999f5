// What stands in a field. A field shows what is kept, but never takes away what is just being typed or was refused: it
// is written anew only when something else has been kept.

import { ref } from "../../vendor/lit-html.js";

/** Lets a field show what is kept. @param {string} kept */
export function shows(kept) {
  return ref((/** @type {Element | undefined} */ element) => {
    if (!(element instanceof HTMLInputElement || element instanceof HTMLTextAreaElement)) return;
    const before = element.dataset["kept"];
    if (before === kept) return;
    const isTyped = element === document.activeElement && before !== undefined && element.value !== before;
    if (!isTyped) element.value = kept;
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
