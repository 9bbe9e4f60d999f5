// The cloth: its sett built bar by bar on a live swatch, or typed; its particulars; its faults.

import { signal } from "../../vendor/signals-core.js";
import { html, live, nothing, ref, repeat, svg } from "../../vendor/lit-html.js";
import { post } from "../api.js";
import * as icons from "../parts/icons.js";
import { shows } from "../parts/fields.js";
import { fault, faultId } from "../parts/sentence.js";
import * as sett from "../sett.js";
import * as state from "../state.js";
import { capital } from "../words.js";
import { tile } from "../weave.js";

/** @typedef {import("../sett.js").Written} Written */
/** @typedef {"warp" | "weft"} Way */
/** @typedef {Record<string, any>} Cloth */

const WAYS = /** @type {const} */ ({ warp: "Upright bars", weft: "Level bars" });
/** The cloths that can be begun here. @type {Record<string, string>} */
const TITLES = {
  shell: "outer cloth",
  lining: "lining",
  interlining: "interlining",
  haircloth: "haircloth",
  underlining: "underlining",
  pocketing: "pocketing",
  wadding: "wadding",
  toile: "toile",
};
const SWATCH = 400; // px
const STRIP = 46;

const which = signal("shell");
const way = signal(/** @type {Way} */ ("warp"));
const chosen = signal(0);
const distance = signal(/** @type {"close" | "true" | "far"} */ ("close"));
const isTyping = signal(false);
/** A bar's width while it is dragged: [direction, bar, mm]. */
const dragged = signal(/** @type {{way: Way, bar: number, mm: number} | null} */ (null));
const swatch = signal(/** @type {{key: string, woven: Record<string, Record<string, string>>, said: any} | null} */ (null));
let asked = "";

/** Asks how the weave mixes the colours, when the cloth is another. @param {Cloth} cloth @param {string} units */
function mixing(cloth, units) {
  const key = JSON.stringify([cloth, units]);
  if (asked !== key) {
    asked = key;
    post("/api/swatch", { cloth, units }).then(
      (answer) => {
        if (asked === key) swatch.value = { key, woven: answer.woven ?? {}, said: answer };
      },
      () => {},
    );
  }
  return swatch.value;
}

/** @param {import("../types.js").Commission} commission */
export function clothView(commission) {
  const cloths = /** @type {Record<string, Cloth>} */ (commission.values["cloths"] ?? {});
  const names = Object.keys(cloths);
  const name = names.includes(which.value) ? which.value : (names[0] ?? "shell");
  const cloth = cloths[name];
  return html`<div class="leaf cloth-view">
    <div class="row spread">
      <h1>${cloth?.["title"] || capital(TITLES[name] ?? "cloth")}</h1>
      <div class="segments" role="group" aria-label="Which cloth">
        ${Object.entries(TITLES).map(([one, title]) =>
          one in cloths ? html`<button aria-pressed=${one === name} @click=${() => (which.value = one)}>${title}</button>` : nothing,
        )}
        ${Object.entries(TITLES).map(([one, title]) =>
          one in cloths ? nothing : html`<button @click=${() => addCloth(one, commission.units)}>+ ${title}</button>`,
        )}
      </div>
    </div>
    ${cloth
      ? editor(commission, name, cloth)
      : html`<p class="notice">There is no cloth yet. <button class="button small" @click=${() => addCloth("shell", commission.units)}>Begin with a plaid</button></p>`}
  </div>`;
}

/** @param {string} name @param {"cm" | "inches"} units */
function addCloth(name, units) {
  const asInches = units === "inches";
  const made =
    name === "shell"
      ? {
          title: "Plaid",
          colours: { ground: "#4a5240", dark: "#262b3a", light: "#e4dcc6" },
          warp: asInches
            ? { bars_in: "inches", bars: ["ground 1", "dark 1/2", "light 1/8", "dark 1/2"] }
            : { bars_in: "mm", bars: ["ground 24", "dark 12", "light 3", "dark 12"] },
          weft: "as warp",
          width: asInches ? "60 in" : "150 cm",
        }
      : name === "lining"
        ? { title: "Lining", colours: { plain: "#6e5a4a" }, width: asInches ? "54 in" : "140 cm" }
        : { title: capital(TITLES[name] ?? name), colours: { plain: "#d2c6ab" } };
  which.value = name;
  void state.change([{ set: `cloths.${name}`, to: made }]);
}

/** @param {import("../types.js").Commission} commission @param {string} name @param {Cloth} cloth */
function editor(commission, name, cloth) {
  const units = commission.units;
  const colours = /** @type {Record<string, string>} */ (cloth["colours"] ?? {});
  const first = Object.keys(colours)[0] ?? "plain";
  const ways = { warp: sett.read(cloth["warp"] ?? first), weft: sett.read(cloth["weft"] ?? first) };
  const answer = mixing(cloth, units);
  const now = dragged.value;
  if (now) {
    const own = ways[now.way];
    const bar = own.bars[now.bar];
    if (bar) ways[now.way] = sett.spliced(own, now.bar, 1, [{ ...bar, width: `${now.mm} mm` }]);
  }
  const woven = sett.settOf(ways.warp, ways.weft, colours, units, answer?.woven ?? {});
  const path = `cloths.${name}`;
  return html`<div class="sett-editor">
      <div class="swatch-side">
        ${swatchDrawing(woven, ways, units, path)}
        <div class="segments small" role="group" aria-label="Seen from">
          <button aria-pressed=${distance.value === "close"} @click=${() => (distance.value = "close")}>close</button>
          <button aria-pressed=${distance.value === "true"} @click=${() => (distance.value = "true")}>true size</button>
          <button aria-pressed=${distance.value === "far"} @click=${() => (distance.value = "far")}>across the room</button>
        </div>
        <p class="small soft">${repeats(answer?.said)}</p>
      </div>
      <div class="bars-side">
        <div class="row spread">
          <div class="segments" role="group" aria-label="Which bars">
            ${/** @type {Way[]} */ (["warp", "weft"]).map(
              (one) => html`<button aria-pressed=${way.value === one} @click=${() => turnTo(one)}>${WAYS[one]}</button>`,
            )}
          </div>
          <label class="check small"><input type="checkbox" .checked=${isTyping.value}
            @change=${(/** @type {Event} */ event) => (isTyping.value = /** @type {HTMLInputElement} */ (event.target).checked)} /> type them</label>
        </div>
        ${bars(ways[way.value], colours, units, `${path}.${way.value}`, cloth)}
      </div>
    </div>
    <hr class="seam" />
    <div class="cloth-columns">
      <section aria-labelledby="colours-title">
        <h2 id="colours-title">Yarns</h2>
        ${yarns(colours, cloth, path)}
      </section>
      <section aria-labelledby="particulars-title">
        <h2 id="particulars-title">The piece of cloth</h2>
        ${particulars(cloth, path, commission, ways, woven)}
      </section>
      <section aria-labelledby="faults-title">
        <h2 id="faults-title">Faults in it</h2>
        ${faults(cloth, path, commission)}
      </section>
    </div>`;
}

/** @param {Way} to */
function turnTo(to) {
  way.value = to;
  chosen.value = 0;
}

/** @param {any} said */
function repeats(said) {
  if (!said?.warp) return "";
  /** @param {any} sequence @param {string} title */
  const one = (sequence, title) =>
    sequence.bars.length > 1
      ? `${title} bars repeat after ${sequence.said}, ${sequence.is_even ? "even" : "uneven"}`
      : `no ${title} bars`;
  const findings = (said.findings ?? []).filter((/** @type {any} */ finding) => finding.weight === "caution");
  return html`${capital(one(said.warp, "upright"))}; ${one(said.weft, "level")}.
    ${findings.map((/** @type {any} */ finding) => html`<br /><em>${state.said(finding)}</em>`)}`;
}

// ---- the swatch

/** @param {import("../weave.js").Sett} woven @param {{warp: Written, weft: Written}} ways @param {"cm" | "inches"} units
 * @param {string} path */
function swatchDrawing(woven, ways, units, path) {
  const close = (SWATCH - STRIP - 40) / Math.max(woven.warp.repeat, woven.weft.repeat, 20);
  const scale = { close: dragScale ?? close, true: 96 / 25.4, far: 0.9 }[distance.value];
  if (!dragged.value) dragScale = null;
  const isClose = distance.value === "close";
  const left = isClose ? STRIP : 0;
  const foot = isClose ? SWATCH - STRIP : SWATCH;
  return html`<svg class="swatch" viewBox="0 0 ${SWATCH} ${SWATCH}" width=${SWATCH} height=${SWATCH} role="group" aria-label="Swatch">
    <defs>
      <pattern id="swatch-cloth" patternUnits="userSpaceOnUse" width=${woven.warp.repeat} height=${woven.weft.repeat}
        patternTransform="translate(${left} ${foot}) scale(${scale} ${-scale})">
        ${tile(woven).map(([x, y, width, height, colour]) => svg`<rect x=${x} y=${y} width=${width} height=${height} fill=${colour} />`)}
      </pattern>
    </defs>
    <rect x=${left} y="0" width=${SWATCH - left} height=${foot} fill="url(#swatch-cloth)" role="img" aria-label="The cloth as woven" />
    ${isClose
      ? svg`<rect class="repeat" x=${left} y=${foot - woven.weft.repeat * scale} width=${woven.warp.repeat * scale} height=${woven.weft.repeat * scale} />
          ${strip("warp", ways.warp, woven.warp, scale, units, path)}
          ${ways.weft.alone === "as warp" ? nothing : strip("weft", ways.weft, woven.weft, scale, units, path)}`
      : nothing}
  </svg>`;
}
let dragScale = /** @type {number | null} */ (null);

/** A strip of bars beside the swatch: each can be chosen, and its far side dragged. @param {Way} of @param {Written} written
 * @param {import("../weave.js").Sequence} sequence @param {number} scale @param {"cm" | "inches"} units @param {string} path */
function strip(of, written, sequence, scale, units, path) {
  if (written.alone !== null) return nothing;
  const colours = /** @type {Record<string, string>} */ (
    state.commission.value?.values["cloths"]?.[path.split(".")[1] ?? ""]?.["colours"] ?? {}
  );
  let at = 0;
  const boxes = written.bars.map((bar, index) => {
    const mm = sequence.bars[index]?.width ?? 5;
    const start = at;
    at += mm;
    const [x, y, width, height] =
      of === "warp"
        ? [STRIP + start * scale, SWATCH - STRIP + 6, mm * scale, STRIP - 12]
        : [6, SWATCH - STRIP - (start + mm) * scale, STRIP - 12, mm * scale];
    return { bar, index, mm, x, y, width, height, isChosen: way.value === of && chosen.value === index };
  });
  return svg`${boxes.map(({ bar, index, x, y, width, height, isChosen }) => svg`<g class="strip-bar ${isChosen ? "chosen" : ""}">
      <rect x=${x} y=${y} width=${width} height=${height} fill=${colours[bar.colour] ?? "#999"} @click=${() => {
        way.value = of;
        chosen.value = index;
      }} />
      ${isChosen
        ? of === "warp"
          ? svg`<path class="chosen-mark" d="M${x + width / 2} ${y - 1}l-5 -7h10z" />`
          : svg`<path class="chosen-mark" d="M${x + width + 1} ${y + height / 2}l7 -5v10z" />`
        : nothing}
    </g>`)}
    ${boxes.map(({ bar, index, mm, x, y, width, height }) => svg`<path class="side-mark" d=${of === "warp" ? `M${x + width} ${y - 3}v${height + 6}` : `M${x - 3} ${y}h${width + 6}`} />
      <rect class="side ${of}" x=${of === "warp" ? x + width - 7 : x - 4} y=${of === "warp" ? y - 4 : y - 7}
        width=${of === "warp" ? 14 : width + 8} height=${of === "warp" ? height + 8 : 14}
        @pointerdown=${(/** @type {PointerEvent} */ event) => dragSide(event, of, index, mm, scale, written, units, path)}>
        <title>Drag: ${bar.colour} wider or narrower</title></rect>`)}`;
}

/** @param {PointerEvent} event @param {Way} of @param {number} bar @param {number} mm @param {number} scale
 * @param {Written} written @param {"cm" | "inches"} units @param {string} path */
function dragSide(event, of, bar, mm, scale, written, units, path) {
  event.preventDefault();
  const target = /** @type {Element} */ (event.currentTarget);
  target.setPointerCapture(event.pointerId);
  way.value = of;
  chosen.value = bar;
  dragScale = scale;
  const from = of === "warp" ? event.clientX : event.clientY;
  const svgBox = target.closest("svg")?.getBoundingClientRect();
  const shrink = svgBox ? svgBox.width / SWATCH : 1;
  let text = written.bars[bar]?.width ?? "";
  /** @param {PointerEvent} moved */
  const move = (moved) => {
    const way = (of === "warp" ? moved.clientX - from : from - moved.clientY) / shrink / scale;
    text = sett.widthText(Math.min(399, Math.max(0.5, mm + way)), written, units);
    const snapped = sett.widthOf(text, sett.unitOf(written, units)) ?? mm;
    if (dragged.value?.mm !== snapped) dragged.value = { way: of, bar, mm: snapped };
  };
  /** @param {Event} ended */
  const end = (ended) => {
    target.removeEventListener("pointermove", /** @type {EventListener} */ (move));
    target.removeEventListener("pointerup", end);
    target.removeEventListener("pointercancel", end);
    const own = written.bars[bar];
    if (ended.type === "pointerup" && own && dragged.value && text !== own.width) {
      const put = sett.spliced(written, bar, 1, [{ ...own, width: text }]);
      void keep(`${path}.${of}`, put).then(() => (dragged.value = null));
    } else dragged.value = null;
  };
  target.addEventListener("pointermove", /** @type {EventListener} */ (move));
  target.addEventListener("pointerup", end);
  target.addEventListener("pointercancel", end);
}

/** Keeps a direction as it is now. @param {string} path @param {Written} written */
function keep(path, written) {
  return state.change([{ set: path, to: sett.write(written) }], path);
}

// ---- the bars of one direction

/** How many threads there are, as they were counted. @param {Written} written @param {"cm" | "inches"} units @param {string} path */
function threads(written, units, path) {
  const counted = written.threads_per_cm ?? written.threads_per_inch;
  const isPerInch = written.threads_per_inch !== null || (counted === null && units === "inches");
  return html`<label class="small">per ${isPerInch ? "inch" : "cm"} <input class="field small narrow figures" ${shows(String(counted ?? ""))}
      @change=${(/** @type {Event} */ event) => {
        const typed = /** @type {HTMLInputElement} */ (event.target).value.trim() || null;
        void keep(path, { ...written, [isPerInch ? "threads_per_inch" : "threads_per_cm"]: typed });
      }} /></label>`;
}

/** Two bars to begin with. @param {Written} written @param {string[]} names @param {"cm" | "inches"} units
 * @returns {Written} */
function begun(written, names, units) {
  const [bars_in, wide, narrow] = units === "inches" ? ["inches", "3/4", "1/4"] : ["mm", "20", "6"];
  const first = names[0] ?? "";
  return { ...written, alone: null, bars_in, bars: [{ colour: first, width: wide }, { colour: names[1] ?? first, width: narrow }] };
}

/** @param {Written} written @param {Record<string, string>} colours @param {"cm" | "inches"} units @param {string} path
 * @param {Cloth} cloth */
function bars(written, colours, units, path, cloth) {
  const isWeft = path.endsWith("weft");
  /** @type {sett.Kind} */
  const kind = written.alone === "as warp" ? "as warp" : written.alone !== null ? "one colour" : "bars";
  /** @param {string} to */
  const turn = (to) => {
    const names = Object.keys(colours);
    if (to === "as warp") void keep(path, { ...written, alone: "as warp" });
    else if (to === "one colour") void keep(path, { ...written, alone: names[0] ?? "" });
    else {
      const other = isWeft ? sett.read(cloth["warp"]) : null;
      const start = other && other.alone === null ? other : begun(written, names, units);
      void keep(path, start);
    }
    chosen.value = 0;
  };
  const kinds = /** @type {[string, string][]} */ (
    isWeft ? [["bars", "bars of its own"], ["as warp", "the same as upright"], ["one colour", "one colour, no bars"]] : [["bars", "bars"], ["one colour", "one colour, no bars"]]
  );
  return html`<div class="row bar-kind">
      <label class="small">They are
        <select class="field small" .value=${kind} @change=${(/** @type {Event} */ event) => turn(/** @type {HTMLSelectElement} */ (event.target).value)}>
          ${kinds.map(([value, says]) => html`<option value=${value} ?selected=${value === kind}>${says}</option>`)}
        </select>
      </label>
      ${kind === "one colour"
        ? html`<label class="small">of <select class="field small" @change=${(/** @type {Event} */ event) => keep(path, { ...written, alone: /** @type {HTMLSelectElement} */ (event.target).value })}>
            ${Object.keys(colours).map((name) => html`<option value=${name} ?selected=${name === written.alone}>${name}</option>`)}
          </select></label>`
        : nothing}
      ${kind === "bars"
        ? html`<label class="small">widths in
            <select class="field small" @change=${(/** @type {Event} */ event) => measureIn(written, /** @type {HTMLSelectElement} */ (event.target).value, units, path)}>
              ${[["", units], ["mm", "mm"], ["cm", "cm"], ["inches", "inches"], ["threads", "threads"]].map(
                ([value, says]) => html`<option value=${value ?? ""} ?selected=${(written.bars_in ?? "") === value}>${says}</option>`,
              )}
            </select></label>
          ${written.bars_in === "threads"
            ? threads(written, units, path)
            : nothing}
          <label class="check small"><input type="checkbox" .checked=${live(written.mirrored)}
            @change=${(/** @type {Event} */ event) => keep(path, { ...written, mirrored: /** @type {HTMLInputElement} */ (event.target).checked })} />
            mirrored: the list comes back in reverse</label>`
        : nothing}
    </div>
    ${fault(path)} ${state.faults.value[`${path}.bars`] ? fault(`${path}.bars`) : nothing}
    ${kind !== "bars" ? nothing : isTyping.value ? typed(written, path) : list(written, colours, path, units)}`;
}

/** @param {Written} written @param {string} to @param {"cm" | "inches"} units @param {string} path */
function measureIn(written, to, units, path) {
  const mm = sett.widths(written, units);
  const usual = units === "inches" ? { threads_per_cm: null, threads_per_inch: 50 } : { threads_per_cm: 20, threads_per_inch: null };
  const isCounted = written.threads_per_cm !== null || written.threads_per_inch !== null;
  const threads = to !== "threads" ? { threads_per_cm: null, threads_per_inch: null } : isCounted ? {} : usual;
  const next = { ...written, bars_in: to || null, ...threads };
  next.bars = written.bars.map((bar, index) => ({ ...bar, width: sett.widthText(mm[index] ?? 5, next, units) }));
  void keep(path, next);
}

/** @param {Written} written @param {string} path */
function typed(written, path) {
  const text = written.bars.map((bar) => `${bar.colour} ${bar.width}`).join("\n");
  return html`<label class="typed"
    ><span class="small soft">One bar to a line, colour and width, over one whole repeat: ${path.endsWith("warp") ? "from left to right, the right side facing you" : "from the cut end upwards"}.</span>
    <textarea class="field figures" rows=${Math.max(6, written.bars.length + 1)} spellcheck="false"
      aria-invalid=${path in state.faults.value ? "true" : "false"}
      ${shows(text)}
      @change=${(/** @type {Event} */ event) => {
        const lines = /** @type {HTMLTextAreaElement} */ (event.target).value.split(/[\n;]|,(?=\s*[^\d\s])/).map((line) => line.trim()).filter(Boolean);
        void keep(path, { ...written, bars: lines.map(sett.readBar) });
      }}></textarea></label>`;
}

/** @param {Written} written @param {Record<string, string>} colours @param {string} path @param {"cm" | "inches"} units */
function list(written, colours, path, units) {
  const at = Math.min(chosen.value, written.bars.length - 1);
  const of = /** @type {Way} */ (path.split(".").at(-1));
  /** @param {Written} next @param {number} [choose] */
  const put = (next, choose = at) => {
    chosen.value = Math.max(0, choose);
    void keep(path, next);
  };
  const bar = written.bars[at];
  const half = () => {
    const mm = (sett.widths(written, units)[at] ?? 5) / 2;
    const width = sett.widthText(mm, written, units);
    return { colour: bar?.colour ?? "", width };
  };
  const other = Object.keys(colours).find((name) => name !== bar?.colour) ?? bar?.colour ?? "";
  return html`<ol class="bar-list" aria-label=${WAYS[of]}>
      ${repeat(
        written.bars,
        (_, index) => index,
        (one, index) => html`<li class=${index === at ? "chosen" : ""}>
          <button class="bar-pick" aria-pressed=${index === at} aria-label="Bar ${index + 1}: ${one.colour} ${one.width}" @click=${() => (chosen.value = index)}>
            <span class="chip" ${paint(colours[one.colour])}></span>
          </button>
          <select class="field small" aria-label="Colour of bar ${index + 1}" @focus=${() => (chosen.value = index)}
            @change=${(/** @type {Event} */ event) => put(sett.spliced(written, index, 1, [{ ...one, colour: /** @type {HTMLSelectElement} */ (event.target).value }]), index)}>
            ${Object.keys(colours).map((name) => html`<option value=${name} ?selected=${name === one.colour}>${name}</option>`)}
          </select>
          <input class="field small figures" aria-label="Width of bar ${index + 1}" ${shows(one.width)} @focus=${() => (chosen.value = index)}
            @change=${(/** @type {Event} */ event) => put(sett.spliced(written, index, 1, [{ ...one, width: /** @type {HTMLInputElement} */ (event.target).value.trim() }]), index)}
            @keydown=${(/** @type {KeyboardEvent} */ event) => widthKey(event, written, index, units, put)} />
        </li>`,
      )}
    </ol>
    <div class="row bar-tools" role="group" aria-label="The chosen bar">
      <button class="button small" @click=${() => put(sett.spliced(written, at + 1, 0, [{ colour: other, width: sett.widthText(6, written, units) }]), at + 1)}>Add a bar after it</button>
      <button class="button small" ?disabled=${!bar} @click=${() => put(sett.spliced(written, at, 1, [half(), { ...half(), colour: other }]), at + 1)}>Split it</button>
      <button class="button small" ?disabled=${at <= 0} @click=${() => bar && put(sett.spliced(sett.spliced(written, at, 1, []), at - 1, 0, [bar]), at - 1)}>${of === "warp" ? "Move left" : "Move down"}</button>
      <button class="button small" ?disabled=${at >= written.bars.length - 1} @click=${() => bar && put(sett.spliced(sett.spliced(written, at, 1, []), at + 1, 0, [bar]), at + 1)}>${of === "warp" ? "Move right" : "Move up"}</button>
      <button class="button small" ?disabled=${written.bars.length < 2} @click=${() => put(sett.spliced(written, at, 1, []), at - 1)}>Take it out</button>
    </div>`;
}

/** Up and down make a bar wider and narrower by the least that a hand measures. @param {KeyboardEvent} event
 * @param {Written} written @param {number} index @param {"cm" | "inches"} units
 * @param {(next: Written, choose?: number) => void} put */
function widthKey(event, written, index, units, put) {
  if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
  event.preventDefault();
  const bar = written.bars[index];
  const unit = sett.unitOf(written, units);
  const step = unit === 25.4 ? 25.4 / 16 : unit === 1 ? 0.5 : unit === 10 ? 0.5 : unit;
  const mm = (sett.widths(written, units)[index] ?? 5) + (event.key === "ArrowUp" ? step : -step);
  if (bar && mm > 0.2) put(sett.spliced(written, index, 1, [{ ...bar, width: sett.widthText(mm, written, units) }]), index);
}

// ---- yarns, particulars, faults

/** Gives an element a background; styles are set by script, never in the markup. @param {string | undefined} colour */
function paint(colour) {
  return ref((/** @type {Element | undefined} */ element) => {
    if (element instanceof HTMLElement) element.style.background = colour ?? "#999";
  });
}

/** @param {Record<string, string>} colours @param {Cloth} cloth @param {string} path */
function yarns(colours, cloth, path) {
  const used = [cloth["warp"], cloth["weft"]].flatMap((value) => {
    const written = sett.read(value);
    return written.alone !== null ? [written.alone] : written.bars.map((bar) => bar.colour);
  });
  return html`<ul class="yarns">
      ${Object.entries(colours).map(
        ([name, hex]) => html`<li>
          <input type="color" aria-label="Colour of ${name}" .value=${live(hex)} @change=${(/** @type {Event} */ event) => recolour(colours, name, name, /** @type {HTMLInputElement} */ (event.target).value, cloth, path)} />
          <input class="field small" aria-label="Name of the yarn" ${shows(name)} maxlength="30"
            @change=${(/** @type {Event} */ event) => recolour(colours, name, /** @type {HTMLInputElement} */ (event.target).value.trim(), hex, cloth, path)} />
          ${used.includes(name)
            ? html`<span class="small soft">${counted(used.filter((one) => one === name).length)}</span>`
            : html`<button class="button bare small" aria-label="Take out ${name}" @click=${() => {
                const { [name]: _, ...rest } = colours;
                void state.change([{ set: `${path}.colours`, to: rest }], `${path}.colours`);
              }}>take out</button>`}
        </li>`,
      )}
    </ul>
    ${fault(`${path}.colours`)}
    <button class="button small" @click=${() => {
      let name = "new";
      while (name in colours) name += "er";
      void state.change([{ set: `${path}.colours`, to: { ...colours, [name]: "#b08d57" } }], `${path}.colours`);
    }}>Add a yarn</button>`;
}

/** @param {number} count */
function counted(count) {
  return count === 1 ? "1 bar" : `${count} bars`;
}

/** @param {Record<string, string>} colours @param {string} name @param {string} to @param {string} hex @param {Cloth} cloth
 * @param {string} path */
function recolour(colours, name, to, hex, cloth, path) {
  if (!to || (to !== name && to in colours)) {
    state.tell(to ? `There is a yarn called ${to} already.` : "A yarn needs a name.", true);
    return;
  }
  /** @type {import("../types.js").Change[]} */
  const changes = [
    { set: `${path}.colours`, to: Object.fromEntries(Object.entries(colours).map(([own, value]) => (own === name ? [to, hex] : [own, value]))) },
  ];
  if (to !== name) {
    for (const one of ["warp", "weft"]) {
      const written = sett.read(cloth[one]);
      if (cloth[one] === undefined) continue;
      const next = {
        ...written,
        alone: written.alone === name ? to : written.alone,
        bars: written.bars.map((bar) => (bar.colour === name ? { ...bar, colour: to } : bar)),
      };
      if (JSON.stringify(next) !== JSON.stringify(written)) changes.push({ set: `${path}.${one}`, to: sett.write(next) });
    }
    for (const [field, value] of Object.entries({ dominant_warp: cloth["dominant_warp"], dominant_weft: cloth["dominant_weft"] })) {
      if (typeof value === "string" && value.startsWith(`${name} `)) changes.push({ set: `${path}.${field}`, to: to + value.slice(name.length) });
    }
    for (const field of ["at_left_selvedge", "at_squared_end"]) {
      const at = cloth[field];
      if (at?.bar?.startsWith(`${name} `)) changes.push({ set: `${path}.${field}`, to: { ...at, bar: to + at.bar.slice(name.length) } });
    }
  }
  void state.change(changes, `${path}.colours`);
}

/** @param {Cloth} cloth @param {string} path @param {import("../types.js").Commission} commission
 * @param {{warp: Written, weft: Written}} ways @param {import("../weave.js").Sett} woven */
function particulars(cloth, path, commission, ways, woven) {
  /** @param {string} name */
  const custom = (name) => customOf(commission, `${path}.${name}`);
  const inches = commission.units === "inches";
  const price = inches || cloth["price_per_yard"] !== undefined ? "price_per_yard" : "price_per_metre";
  const unit = inches ? "in" : "cm";
  void ways;
  return html`<div class="particulars">
    ${written("title", "It is called", cloth, path)}
    ${written("width", `Width, ${unit}`, cloth, path, custom("width"))}
    ${written("selvedge", `Each selvedge, ${unit}`, cloth, path, custom("selvedge"))}
    ${written("length_in_hand", "Length in hand", cloth, path, "still to be bought")}
    ${written(price, price === "price_per_yard" ? "Price per yard" : "Price per metre", cloth, path, "not known yet")}
    ${written("thickness", "Thickness", cloth, path, custom("thickness"))}
    ${choose("nap", "Nap", custom("nap"), cloth, path, [["none", "none"], ["one-way", "one way, smooth downwards"]])}
    ${choose("weave", "Weave", custom("weave"), cloth, path, [["plain", "plain"], ["twill", "twill"], ["satin", "satin"]])}
    ${choose("faces_alike", "Wrong side may show", "", cloth, path, [["false", "no"], ["true", "yes"]])}
    ${written("shrinks_in_length", "Shrinks in length, %", cloth, path, "2")}
    ${written("shrinks_in_width", "Shrinks in width, %", cloth, path, "1")}
    ${dominant("dominant_warp", "The eye follows, upright", cloth, path, woven.warp, swatch.value?.said?.warp?.dominant)}
    ${dominant("dominant_weft", "The eye follows, level", cloth, path, woven.weft, swatch.value?.said?.weft?.dominant)}
    ${edge("at_left_selvedge", "At the left selvedge", ["left edge", "middle", "right edge"], cloth, path, woven.warp)}
    ${cloth["length_in_hand"] !== undefined ? edge("at_squared_end", "At the squared end", ["lower edge", "middle", "upper edge"], cloth, path, woven.weft) : nothing}
  </div>`;
}

/** @param {string} name @param {string} title @param {Cloth} cloth @param {string} path @param {string} [custom] */
function written(name, title, cloth, path, custom = "by custom") {
  const field = `${path}.${name}`;
  const value = cloth[name] === undefined || cloth[name] === null ? "" : String(cloth[name]);
  return line(field, title, value, custom, (typed) => (typed ? [{ set: field, to: typed }] : [{ take_out: field }]));
}

/** Returns what custom gives, as the ticket tells it. @param {import("../types.js").Commission} commission
 * @param {string} field */
function customOf(commission, field) {
  const parts = commission.ticket.flatMap(({ sentences }) => sentences).flatMap((sentence) => sentence.parts);
  const found = parts.find((part) => typeof part !== "string" && part.field === field);
  return typeof found === "object" && found.custom ? found.says : "by custom";
}

/** @param {string} field @param {string} title @param {string} value @param {string} custom
 * @param {(typed: string) => import("../types.js").Change[]} changes */
function line(field, title, value, custom, changes) {
  const id = `field-${field.replace(/[^a-z0-9]+/gi, "-")}`;
  const isWrong = field in state.faults.value;
  return html`<div class="particular">
    <label for=${id}>${title}</label>
    <input id=${id} class="field figures" data-field=${field} placeholder=${custom} maxlength="80" autocomplete="off"
      aria-invalid=${isWrong ? "true" : "false"} aria-describedby=${isWrong ? faultId(field) : nothing}
      ${shows(value)}
      @change=${(/** @type {Event} */ event) => {
        const typed = /** @type {HTMLInputElement} */ (event.target).value.trim();
        if (typed === value) state.forget(field);
        else void state.change(changes(typed), field);
      }} />
    ${fault(field)}
  </div>`;
}

/** @param {string} name @param {string} title @param {string} custom @param {Cloth} cloth @param {string} path
 * @param {[string, string][]} options */
function choose(name, title, custom, cloth, path, options) {
  const field = `${path}.${name}`;
  const value = cloth[name] === undefined ? "" : String(cloth[name]);
  return html`<div class="particular">
    <label for="field-${path}-${name}">${title}</label>
    <select id="field-${path}-${name}" class="field" @change=${(/** @type {Event} */ event) => {
      const to = /** @type {HTMLSelectElement} */ (event.target).value;
      void state.change([to ? { set: field, to: name === "faces_alike" ? to === "true" : to } : { take_out: field }], field);
    }}>
      <option value="" ?selected=${value === ""}>${custom && !value && custom !== "by custom" ? `${custom}, by custom` : "by custom"}</option>
      ${options.map(([own, says]) => html`<option value=${own} ?selected=${own === value}>${says}</option>`)}
    </select>
    ${fault(field)}
  </div>`;
}

/** Returns the names of a sequence's bars: each colour with its count. @param {import("../weave.js").Sequence} sequence */
function named(sequence) {
  /** @type {Record<string, number>} */
  const counts = {};
  return sequence.bars.map((bar) => `${bar.colour} ${(counts[bar.colour] = (counts[bar.colour] ?? 0) + 1)}`);
}

/** @param {string} name @param {string} title @param {Cloth} cloth @param {string} path
 * @param {import("../weave.js").Sequence} sequence @param {string | null | undefined} suggested */
function dominant(name, title, cloth, path, sequence, suggested) {
  if (sequence.bars.length < 2) return nothing;
  const field = `${path}.${name}`;
  const value = cloth[name] ?? "";
  return html`<div class="particular">
    <label for="field-${path}-${name}">${title}</label>
    <select id="field-${path}-${name}" class="field" @change=${(/** @type {Event} */ event) => {
      const to = /** @type {HTMLSelectElement} */ (event.target).value;
      void state.change([to ? { set: field, to } : { take_out: field }], field);
    }}>
      <option value="" ?selected=${value === ""}>${suggested && !value ? `suggested: ${suggested}` : "as suggested"}</option>
      ${named(sequence).map((bar) => html`<option value=${bar} ?selected=${bar === value}>${bar}</option>`)}
    </select>
    ${fault(field)}
  </div>`;
}

/** @param {string} name @param {string} title @param {string[]} places @param {Cloth} cloth @param {string} path
 * @param {import("../weave.js").Sequence} sequence */
function edge(name, title, places, cloth, path, sequence) {
  if (sequence.bars.length < 2) return nothing;
  const field = `${path}.${name}`;
  const value = cloth[name] ?? {};
  /** @param {Record<string, string>} part */
  const put = (part) => {
    const next = { ...value, ...part };
    void state.change([next.bar ? { set: field, to: { bar: next.bar, at: next.at ?? places[0] } } : { take_out: field }], field);
  };
  return html`<div class="particular">
    <label for="field-${path}-${name}">${title}</label>
    <span class="pair">
      <select id="field-${path}-${name}" class="field" @change=${(/** @type {Event} */ event) => put({ bar: /** @type {HTMLSelectElement} */ (event.target).value })}>
        <option value="" ?selected=${!value.bar}>by custom</option>
        ${named(sequence).map((bar) => html`<option value=${bar} ?selected=${bar === value.bar}>${bar}</option>`)}
      </select>
      ${value.bar
        ? html`<select class="field" aria-label="${title}: where in the bar" @change=${(/** @type {Event} */ event) => put({ at: /** @type {HTMLSelectElement} */ (event.target).value })}>
            ${[...new Set([...places, ...(value.at ? [String(value.at)] : [])])].map((at) => html`<option value=${at} ?selected=${at === String(value.at)}>${at}</option>`)}
          </select>`
        : nothing}
    </span>
    ${fault(field)}
  </div>`;
}

const FIRST_FAULT = {
  cm: { from_left: "50", from_end: "60", width: "2", length: "2" },
  inches: { from_left: "20", from_end: "24", width: "1", length: "1" },
};

const FAULT = /** @type {const} */ ({
  name: "what it is",
  from_left: "from the left edge",
  from_end: "from the cut end",
  width: "width",
  length: "length",
});

/** @param {Cloth} cloth @param {string} path @param {import("../types.js").Commission} commission */
function faults(cloth, path, commission) {
  const all = /** @type {Record<string, any>[]} */ (cloth["faults"] ?? []);
  const unit = commission.units === "inches" ? "inches" : "cm";
  return html`<p class="small soft">Places that no piece may touch, in ${unit}, as the cloth lies right side up.</p>
    <ol class="cloth-faults">
      ${all.map(
        (one, index) => html`<li>
          ${Object.entries(FAULT).map(([name, says]) => {
            const field = `${path}.faults.${index}.${name}`;
            const id = `field-${field.replace(/[^a-z0-9]+/gi, "-")}`;
            const value = one[name] === undefined ? "" : String(one[name]);
            const isWrong = field in state.faults.value;
            return html`<label class="small">${says}
                <input id=${id} class="field small figures" maxlength="60" aria-invalid=${isWrong ? "true" : "false"}
                  ${shows(value)}
                  @change=${(/** @type {Event} */ event) => state.change([{ set: field, to: /** @type {HTMLInputElement} */ (event.target).value.trim() }], field)} /></label>
              ${fault(field)}`;
          })}
          <button class="button bare icon" aria-label="Take out this fault" title="Take out" @click=${() => state.change([{ take_out: `${path}.faults.${index}` }])}>${icons.away}</button>
        </li>`,
      )}
    </ol>
    ${fault(`${path}.faults`)}
    <button class="button small" @click=${() =>
      state.change(
        [{ set: `${path}.faults`, to: [...all, { name: all.length ? `slub ${all.length + 1}` : "slub", ...FIRST_FAULT[commission.units] }] }],
        `${path}.faults`,
      )}>Mark a fault</button>`;
}
