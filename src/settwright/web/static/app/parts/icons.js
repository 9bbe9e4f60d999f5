// Small line drawings for buttons; the words stand beside them or in the button's label.
import { svg } from "../../vendor/lit-html.js";

/** @param {string} d */
const line = (d) => svg`<svg viewBox="0 0 20 20" fill="none" stroke="currentColor" stroke-width="1.6"
  stroke-linecap="round" stroke-linejoin="round" aria-hidden="true"><path d=${d} /></svg>`;

export const undo = line("M7.5 5 3.5 9l4 4M3.5 9H12a4.5 4.5 0 0 1 0 9H9");
export const redo = line("M12.5 5l4 4-4 4M16.5 9H8a4.5 4.5 0 0 0 0 9h3");
export const more = line("M10 4v12M4 10h12");
export const less = line("M4 10h12");
export const whole = line("M3.5 7.5v-4h4M12.5 3.5h4v4M16.5 12.5v4h-4M7.5 16.5h-4v-4");
export const sun = line("M10 6.5a3.5 3.5 0 1 0 0 7 3.5 3.5 0 0 0 0-7M10 1.5v2M10 16.5v2M1.5 10h2M16.5 10h2M4 4l1.4 1.4M14.6 14.6L16 16M4 16l1.4-1.4M14.6 5.4L16 4");
export const moon = line("M16.5 11.8A7 7 0 0 1 8.2 3.5a7 7 0 1 0 8.3 8.3z");
export const shelf = line("M3 5.5h14M3 10h14M3 14.5h9");
export const pin = line("M12.5 2.5l5 5-3 .8-2.7 2.7-.3 3.5-6-6 3.5-.3L11.7 5.5zM8.5 11.5l-6 6");
export const hand = line("M7 10V4.2a1.2 1.2 0 0 1 2.4 0V9m0-5.8a1.2 1.2 0 0 1 2.4 0V9m0-4.3a1.2 1.2 0 0 1 2.4 0V12a5.5 5.5 0 0 1-5.5 5.5c-2.5 0-3.7-1.3-5-3.8L2.3 10.8c-.6-1.2.9-2.2 1.9-1.2L7 12");
export const away = line("M4 4l12 12M16 4L4 16");
export const up = line("M10 15.5V5M5.5 9L10 4.5 14.5 9");
export const down = line("M10 4.5V15M5.5 11l4.5 4.5L14.5 11");
