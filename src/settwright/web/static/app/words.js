// Figures as the person reads them where the server sends millimetres: what misses, told for the hand.

import { html } from "../vendor/lit-html.js";

const SIXTEENTHS = ["", "1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16"];

/** Returns a small length in words: tenths of a millimetre, or sixteenths of an inch.
 * @param {number} mm @param {"cm" | "inches"} units */
export function small(mm, units) {
  const size = Math.abs(mm);
  if (units === "cm") return size < 9.95 ? `${size.toFixed(1).replace(/\.0$/, "")} mm` : `${Math.round(size)} mm`;
  const sixteenths = Math.round((size / 25.4) * 16);
  if (sixteenths === 0) return size < 0.2 ? "0 in" : "under 1/16 in";
  const whole = Math.floor(sixteenths / 16);
  const part = SIXTEENTHS[sixteenths % 16] ?? "";
  return `${[whole || "", part].filter(Boolean).join(" ")} in`;
}

/** Returns a text whose fractions are set as fractions. @param {string | number | null | undefined} text */
export function set(text) {
  return String(text ?? "")
    .split(/(\d+\/\d+)/)
    .map((part, index) => (index % 2 ? html`<span class="fractions">${part}</span>` : part));
}

/** Returns a sentence's first letter as a capital. @param {string} text */
export function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
