// Types for the check only; made by tools/vendor.mjs.
export { html, svg, render, nothing } from "lit-html";
export { classMap } from "lit-html/directives/class-map.js";
export { repeat } from "lit-html/directives/repeat.js";
export { live } from "lit-html/directives/live.js";
export { ref } from "lit-html/directives/ref.js";
export { keyed } from "lit-html/directives/keyed.js";
