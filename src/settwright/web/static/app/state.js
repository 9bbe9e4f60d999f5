// The state of the page and everything that may change it. Views read signals and call the functions below; nothing
// else writes. All that is derived from a plan is fetched once under its key and never changes.

import { batch, computed, effect, signal } from "../vendor/signals-core.js";
import { get, post, Refused } from "./api.js";

/** @typedef {import("./types.js").Commission} Commission */
/** @typedef {import("./types.js").Change} Change */

/** @type {readonly string[]} */
export const TABS = ["measurements", "cloth", "plan", "sheets"];

/** Where the address says that we are: `#/`, or `#/ID/TAB/PART`. */
export const place = signal(placeOf(location.hash));
export const start = signal(/** @type {import("./types.js").Start | null} */ (null));
export const commission = signal(/** @type {Commission | null} */ (null));
export const saving = signal(0); // changes on their way
export const message = signal(/** @type {{text: string, wrong: boolean} | null} */ (null));
export const faults = signal(/** @type {Record<string, import("./types.js").Finding>} */ ({})); // by field: refused as typed
export const working = signal(/** @type {{plan: string, says: string} | null} */ (null));
export const tried = signal(/** @type {{changes: Change[], title: string, plan: string, on: number} | null} */ (null));
export const trying = signal(false);
export const shut = signal(/** @type {string | null} */ (null)); // why the page can't be used at all

/** @param {string} hash */
function placeOf(hash) {
  const [id = "", tab = "plan", part = ""] = hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  return { id, tab: TABS.includes(tab) ? tab : "plan", part };
}

/** Goes somewhere. @param {string} id @param {string} [tab] @param {string} [part] */
export function go(id, tab, part) {
  location.hash = "#/" + [id, tab, part].filter(Boolean).join("/");
}

/** Tells the person something, in words that are also spoken. @param {string} text @param {boolean} [wrong] */
export function tell(text, wrong = false) {
  message.value = { text, wrong };
  clearTimeout(fading);
  fading = setTimeout(() => (message.value = null), wrong ? 9000 : 4500);
  const spoken = document.getElementById("spoken");
  if (spoken) spoken.textContent = text;
}
let fading = 0;

/** @param {unknown} error */
export function tellError(error) {
  if (error instanceof Refused) {
    if (error.kind === "superseded") return;
    tell(error.findings.length ? error.findings.map(said).join(" ") : error.message, true);
  } else if (!(error instanceof DOMException && error.name === "AbortError")) {
    console.error(error);
    tell("Something went wrong on this page. Load it again; everything taken is kept.", true);
  }
}

/** Returns a finding as one text. @param {import("./types.js").Finding} finding */
export function said(finding) {
  return [finding.what, finding.remedy].filter(Boolean).join(" ");
}

// ---- answers kept by address

/** @type {Map<string, {value: import("@preact/signals-core").Signal<any>, error: import("@preact/signals-core").Signal<any>}>} */
const kept = new Map();
const MOST_KEPT = 120;

/** Answers that wait for the cloths to be laid: asked one after the other, so that a browser's few connections stay
 * free for changes. */
const LATE = /^\/api\/plans\/([^/]+)\/(reckoning|differences|layout|files|order|facings)/;

/** @type {{path: string, key: string, ask: () => Promise<void>}[]} */
const waiting = [];
let asking = /** @type {{key: string, abort: AbortController} | null} */ (null);

async function askNext() {
  const next = asking ? undefined : waiting.shift();
  if (!next) return;
  asking = { key: next.key, abort: new AbortController() };
  try {
    await next.ask();
  } finally {
    asking = null;
    void askNext();
  }
}

/** Stops asking for what belongs to plans that are no longer looked at. */
effect(() => {
  const wanted = [commission.value?.plan, tried.value?.plan];
  for (const one of waiting.filter(({ key }) => !wanted.includes(key))) {
    waiting.splice(waiting.indexOf(one), 1);
    kept.delete(one.path);
  }
  if (asking && !wanted.includes(asking.key)) asking.abort.abort();
});

/** Returns what stands at an address that never changes: null until it has come. @template T @param {string | null} path
 * @param {T} [_kind] @returns {T | null} */
export function derived(path, _kind) {
  if (!path) return null;
  let entry = kept.get(path);
  if (!entry) {
    entry = { value: signal(null), error: signal(null) };
    kept.set(path, entry);
    if (kept.size > MOST_KEPT) kept.delete(/** @type {string} */ (kept.keys().next().value));
    fetchInto(path, entry, 0);
  }
  return entry.value.value;
}

/** @param {string} path @param {{value: {value: any}, error: {value: any}}} entry @param {number} tries */
function fetchInto(path, entry, tries) {
  const late = LATE.exec(path);
  const ask = () =>
    get(path, late ? asking?.abort.signal : undefined).then(
      (answer) => {
        entry.value.value = answer;
      },
      (wrong) => {
        if (wrong instanceof Refused && wrong.kind === "superseded" && tries < 60) {
          // a wish for another plan came between; this one may still be looked at
          setTimeout(() => kept.get(path) === entry && fetchInto(path, entry, tries + 1), 500);
          return;
        }
        if (wrong instanceof Refused && wrong.findings.length) entry.error.value = wrong;
        else kept.delete(path);
      },
    );
  if (late) {
    waiting.push({ path, key: late[1] ?? "", ask });
    void askNext();
  } else void ask();
}

/** Fetches an answer again that was only provisional. @param {string} path */
async function again(path) {
  const entry = kept.get(path);
  if (!entry?.value.value?.provisional) return;
  try {
    entry.value.value = await get(path);
  } catch (error) {
    entry.error.value = error;
  }
}

/** Returns what went wrong at an address, or null. @param {string | null} path @returns {Refused | null} */
export function wrongAt(path) {
  return (path && kept.get(path)?.error.value) || null;
}

export const planKey = computed(() => commission.value?.plan ?? null);

/** The report of the plan that stands; the last one stays in sight while the next is worked out. */
export const report = computed(() => {
  const key = planKey.value;
  if (!key) return null;
  const now = derived(`/api/plans/${key}`, /** @type {import("./types.js").Report} */ ({}));
  if (now) lastReport = now;
  return now ?? (lastReport?.id === commission.value?.id ? lastReport : null);
});
let lastReport = /** @type {any} */ (null);

// ---- opening

export async function loadStart() {
  try {
    start.value = await get("/api/start");
    applySettings(start.value?.settings ?? {});
    shut.value = null;
  } catch (error) {
    if (error instanceof Refused) shut.value = error.message;
    else tellError(error);
  }
}

/** @param {string} id */
export async function open(id) {
  batch(() => {
    commission.value = null;
    tried.value = null;
    faults.value = {};
  });
  lastReport = null;
  listen(id);
  try {
    commission.value = await get(`/api/commissions/${encodeURIComponent(id)}`);
  } catch (error) {
    tellError(error);
    go("");
  }
}

/** Begins a commission and opens it. @param {unknown} how @returns {Promise<Refused | null>} what was refused */
export async function begin(how) {
  try {
    const made = await post("/api/commissions", how);
    await loadStart();
    const isNew = typeof how === "object" && how !== null && "garments" in how;
    go(made.id, isNew ? "measurements" : "plan");
    return null;
  } catch (error) {
    if (error instanceof Refused && error.findings.length) return error;
    tellError(error);
    return null;
  }
}

/** Ends listening. */
let deafen = () => {};

/** Listens to what the server tells of a commission. Tabs on the same one share one stream, since a browser opens only
 * a few connections: the tab that holds the lock listens and passes on what it hears. @param {string} id */
function listen(id) {
  deafen();
  working.value = null;
  if (!id) return;
  const name = `settwright ${id}`;
  const channel = new BroadcastChannel(name);
  const ended = new AbortController();
  /** @type {EventSource | null} */
  let events = null;
  channel.addEventListener("message", ({ data }) => heard(data.kind, data.told));
  const hold = () =>
    new Promise((resolve) => {
      events = new EventSource(`/api/events?commission=${encodeURIComponent(id)}`);
      for (const kind of ["head", "stage", "length", "bars", "whole", "refused"]) {
        events.addEventListener(kind, (event) => {
          const told = JSON.parse(/** @type {MessageEvent} */ (event).data);
          channel.postMessage({ kind, told });
          heard(kind, told);
        });
      }
      ended.signal.addEventListener("abort", resolve);
    });
  navigator.locks.request(name, { signal: ended.signal }, hold).catch(() => {});
  deafen = () => {
    ended.abort();
    events?.close();
    channel.close();
    deafen = () => {};
  };
}

/** @param {string} kind @param {any} told */
function heard(kind, told) {
  const now = commission.value;
  if (kind === "head") {
    if (now && told.commission === now.id && told.revision > now.revision && saving.value === 0) void refresh();
  } else if (kind === "stage" || kind === "length") {
    if (told.plan === planKey.value || told.plan === tried.value?.plan) working.value = told;
  } else if (kind === "bars") void again(`/api/plans/${told.plan}`);
  else working.value = null;
}

export async function refresh() {
  const now = commission.value;
  if (!now) return;
  try {
    const state = await get(`/api/commissions/${encodeURIComponent(now.id)}`);
    if (commission.value?.id === state.id && state.revision >= (commission.value?.revision ?? 0)) commission.value = state;
  } catch (error) {
    tellError(error);
  }
}

// ---- changing

/** One change after the other, so that each stands on the revision that the one before has made. */
let queue = Promise.resolve();

/** @param {(now: Commission) => Promise<Commission>} act @returns {Promise<boolean>} */
function next(act) {
  saving.value += 1;
  const done = queue.then(async () => {
    const now = commission.value;
    if (!now) return false;
    try {
      const state = await act(now);
      if (commission.value?.id === state.id) commission.value = state;
      if (state.merged?.length) tell("Joined with what another window changed meanwhile.");
      return true;
    } catch (error) {
      if (error instanceof Refused && error.commission) commission.value = error.commission;
      throw error;
    } finally {
      saving.value -= 1;
    }
  });
  queue = done.then(
    () => {},
    () => {},
  );
  return done;
}

/** Changes the commission; returns whether it was taken. A refusal is shown at its field, or told.
 * @param {Change[]} changes @param {string} [field] the field at which a refusal is shown */
export async function change(changes, field) {
  try {
    await next((now) => post(`/api/commissions/${now.id}/changes`, { on: now.revision, changes }));
    batch(() => {
      if (field) forget(field);
      tried.value = null;
    });
    return true;
  } catch (error) {
    if (error instanceof Refused && field && error.kind === "refused" && error.findings[0]) {
      const own = error.findings.find((finding) => finding.field === field) ?? error.findings[0];
      faults.value = { ...faults.value, [field]: own };
      const spoken = document.getElementById("spoken");
      if (spoken) spoken.textContent = said(own);
    } else tellError(error);
    return false;
  }
}

/** Forgets what was wrong at a field. @param {string} field */
export function forget(field) {
  if (!(field in faults.value)) return;
  const rest = { ...faults.value };
  delete rest[field];
  faults.value = rest;
}

/** @param {"undo" | "redo"} way */
export async function step(way) {
  const now = commission.value;
  if (!now?.[way]) return;
  try {
    await next((then) => post(`/api/commissions/${then.id}/${way}`, { on: then.revision }));
    batch(() => {
      tried.value = null;
      faults.value = {};
    });
    tell(way === "undo" ? `Taken back: ${now.undo}.` : `Done again: ${now.redo}.`);
  } catch (error) {
    tellError(error);
  }
}

/** @param {number} revision */
export async function restore(revision) {
  try {
    await next((now) => post(`/api/commissions/${now.id}/restore`, { on: now.revision, revision }));
    tell("That version is the commission again. Undo brings back what stood before.");
  } catch (error) {
    tellError(error);
  }
}

/** @param {string} name */
export async function nameVersion(name) {
  try {
    await next((now) => post(`/api/commissions/${now.id}/versions`, { name, revision: now.revision }));
    tell(`Kept as “${name}”.`);
  } catch (error) {
    tellError(error);
  }
}

/** Works out what a change would give, without taking it. @param {Change[]} changes @param {string} title */
export async function tryOut(changes, title) {
  const now = commission.value;
  if (!now) return;
  trying.value = true;
  try {
    const answer = await post(`/api/commissions/${now.id}/try`, { on: now.revision, changes });
    if (!answer.plan) {
      tell(answer.findings?.length ? answer.findings.map(said).join(" ") : "That can't be planned.", true);
    } else if (answer.plan === now.plan) {
      tell("That is as it stands: nothing would change.");
    } else tried.value = { changes, title, plan: answer.plan, on: now.revision };
  } catch (error) {
    tellError(error);
  } finally {
    trying.value = false;
  }
}

export function leaveIt() {
  tried.value = null;
  tell("Left as it was.");
}

export async function takeIt() {
  const now = tried.value;
  if (now && (await change(now.changes))) tell(`Taken: ${now.title}.`);
}

// ---- settings

export const light = signal("system");

/** @param {Record<string, string>} settings */
function applySettings(settings) {
  setLight(settings["theme"] ?? "system", false);
}

/** @param {string} wish system, light or dark @param {boolean} [keep] */
export function setLight(wish, keep = true) {
  light.value = wish;
  if (wish === "system") delete document.documentElement.dataset["light"];
  else document.documentElement.dataset["light"] = wish;
  if (keep) post("/api/settings", { theme: wish }).catch(tellError);
}

addEventListener("hashchange", () => {
  const { id: before, tab } = place.value;
  place.value = placeOf(location.hash);
  if (place.value.id !== before || place.value.tab !== tab) scrollTo(0, 0);
  if (place.value.id !== before) {
    if (place.value.id) void open(place.value.id);
    else {
      listen("");
      commission.value = null;
      void loadStart();
    }
  }
});
