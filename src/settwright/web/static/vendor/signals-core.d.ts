// Types for the check only; made by tools/vendor.mjs.
export { signal, computed, effect, batch, untracked } from "@preact/signals-core";
