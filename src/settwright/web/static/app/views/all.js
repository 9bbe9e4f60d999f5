// The views of a commission, by tab.

import { clothView } from "./cloth.js";
import { measurementsView } from "./measurements.js";
import { planView } from "./plan.js";
import { sheetsView } from "./sheets.js";

export { historySheet } from "./history.js";

/** @type {Record<string, (commission: import("../types.js").Commission) => unknown>} */
export const tabs = { measurements: measurementsView, cloth: clothView, plan: planView, sheets: sheetsView };
