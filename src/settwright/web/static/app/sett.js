// A sett as it is written in the commission, and the changes that a hand makes to it. Pure values; nothing is drawn.

/**
 * @typedef {object} Written  one direction as written: "navy", a list of bars, or a section
 * @property {string | null} bars_in
 * @property {boolean} mirrored
 * @property {number | string | null} threads_per_cm
 * @property {number | string | null} threads_per_inch
 * @property {{colour: string, width: string}[]} bars
 * @property {string | null} alone  the one colour, or "as warp"; null where bars are listed
 *
 * @typedef {"as warp" | "one colour" | "bars"} Kind
 */

const BAR = /^\s*([^\d¼½¾⅛⅜⅝⅞]*?)[\s:=]*([-+]?[\d¼½¾⅛⅜⅝⅞].*)$/;

/** Reads one direction as it stands in the commission's values. @param {unknown} value @returns {Written} */
export function read(value) {
  const none = { bars_in: null, mirrored: false, threads_per_cm: null, threads_per_inch: null, bars: [], alone: null };
  if (typeof value === "string") return { ...none, alone: value };
  if (Array.isArray(value)) return { ...none, bars: value.map(readBar) };
  if (typeof value === "object" && value !== null) {
    const section = /** @type {Record<string, any>} */ (value);
    return {
      bars_in: section["bars_in"] ?? null,
      mirrored: section["mirrored"] ?? false,
      threads_per_cm: section["threads_per_cm"] ?? null,
      threads_per_inch: section["threads_per_inch"] ?? null,
      bars: (section["bars"] ?? []).map(readBar),
      alone: null,
    };
  }
  return none;
}

/** @param {unknown} text @returns {{colour: string, width: string}} */
export function readBar(text) {
  const found = BAR.exec(String(text));
  return found ? { colour: (found[1] ?? "").trim(), width: (found[2] ?? "").trim() } : { colour: String(text), width: "" };
}

/** Returns a direction as the commission holds it. @param {Written} way */
export function write(way) {
  if (way.alone !== null) return way.alone;
  const bars = way.bars.map(({ colour, width }) => `${colour} ${width}`.trim());
  const section = /** @type {Record<string, unknown>} */ ({});
  if (way.bars_in) section["bars_in"] = way.bars_in;
  if (way.threads_per_cm !== null) section["threads_per_cm"] = way.threads_per_cm;
  if (way.threads_per_inch !== null) section["threads_per_inch"] = way.threads_per_inch;
  if (way.mirrored) section["mirrored"] = true;
  return Object.keys(section).length ? { ...section, bars } : bars;
}

/** Returns what a bare figure of width means, in millimetres. @param {Written} way @param {"cm" | "inches"} units */
export function unitOf(way, units) {
  if (way.bars_in === "mm") return 1;
  if (way.bars_in === "cm") return 10;
  if (way.bars_in === "inches") return 25.4;
  const threads = way.threads_per_cm !== null ? 10 / Number(way.threads_per_cm) : way.threads_per_inch !== null ? 25.4 / Number(way.threads_per_inch) : null;
  if (threads && (way.bars_in === "threads" || way.bars_in === null)) return threads;
  return units === "cm" ? 10 : 25.4;
}

/** Returns a width in millimetres as it is written in this direction: to half a millimetre, a sixteenth, a thread.
 * @param {number} mm @param {Written} way @param {"cm" | "inches"} units */
export function widthText(mm, way, units) {
  const unit = unitOf(way, units);
  if (unit === 25.4) return sixteenths(mm);
  if (unit === 1) return `${Math.max(0.5, Math.round(mm * 2) / 2)}`;
  if (unit === 10) return `${Math.max(0.05, Math.round(mm * 2) / 20)}`;
  return `${Math.max(1, Math.round(mm / unit))}`;
}

/** @param {number} mm */
function sixteenths(mm) {
  let top = Math.max(1, Math.round((mm / 25.4) * 16));
  const whole = Math.floor(top / 16);
  top %= 16;
  let bottom = 16;
  while (top && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  return [whole || "", top ? `${top}/${bottom}` : ""].filter(Boolean).join(" ");
}

/** Returns the width as millimetres, or null where it can't be read. @param {string} text @param {number} unit */
export function widthOf(text, unit) {
  const found = /^(\d+(?:[.,]\d+)?)?(?:\s*(\d+)\s*\/\s*(\d+))?\s*(mm|cm|in|inches|inch|"|″)?$/.exec(
    text.trim().replace(/[¼½¾⅛⅜⅝⅞]/g, (sign) => ` ${VULGAR[sign]}`).trim(),
  );
  if (!found || (!found[1] && !found[2])) return null;
  const size = { mm: 1, cm: 10, in: 25.4, inches: 25.4, inch: 25.4, '"': 25.4, "″": 25.4 }[found[4] ?? ""] ?? unit;
  const value = Number((found[1] ?? "0").replace(",", ".")) + (found[2] ? Number(found[2]) / Number(found[3]) : 0);
  return value > 0 && Number.isFinite(value) ? value * size : null;
}
const VULGAR = /** @type {Record<string, string>} */ ({
  "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
});

/** Returns the widths of the written bars in millimetres, unreadable ones as 5.
 * @param {Written} way @param {"cm" | "inches"} units */
export function widths(way, units) {
  const unit = unitOf(way, units);
  return way.bars.map((bar) => widthOf(bar.width, unit) ?? 5);
}

/** Returns the whole repeat: the written bars, and those that come back. @param {readonly {colour: string, width: number}[]} bars
 * @param {boolean} mirrored */
export function whole(bars, mirrored) {
  return mirrored ? [...bars, ...bars.slice(1, -1).reverse()] : [...bars];
}

/** Returns a direction with one bar put in another's place, or bars added or taken out.
 * @param {Written} way @param {number} at @param {number} out @param {{colour: string, width: string}[]} put
 * @returns {Written} */
export function spliced(way, at, out, put) {
  const bars = [...way.bars];
  bars.splice(at, out, ...put);
  return { ...way, bars };
}

/** Returns the sett that stands in a cloth's values, ready to draw.
 * @param {Written} warp @param {Written} weft @param {Record<string, string>} colours @param {"cm" | "inches"} units
 * @param {Record<string, Record<string, string>>} woven  what is known of mixed colours
 * @returns {import("./weave.js").Sett} */
export function settOf(warp, weft, colours, units, woven) {
  /** @param {Written} way */
  const sequence = (way) => {
    const bars =
      way.alone !== null
        ? [{ name: way.alone, colour: way.alone, width: 10 }]
        : whole(
            widths(way, units).map((width, index) => ({ colour: way.bars[index]?.colour ?? "", width })),
            way.mirrored,
          ).map((bar) => ({ ...bar, name: bar.colour }));
    return { bars, repeat: bars.reduce((sum, bar) => sum + bar.width, 0) || 10 };
  };
  const across = sequence(warp);
  const up = weft.alone === "as warp" ? across : sequence(weft);
  /** @type {Record<string, Record<string, string>>} */
  const mixed = {};
  for (const a of across.bars) {
    for (const b of up.bars) {
      const row = (mixed[a.colour] ??= {});
      row[b.colour] = woven[a.colour]?.[b.colour] ?? mix(colours[a.colour] ?? "#999999", colours[b.colour] ?? "#999999");
    }
  }
  return { warp: across, weft: up, woven: mixed };
}

/** Returns two colours seen from a distance, half of each in light, until the server has said how the weave mixes.
 * @param {string} a @param {string} b */
export function mix(a, b) {
  /** @param {string} hex @param {number} k */
  const light = (hex, k) => {
    const part = parseInt(hex.slice(1 + 2 * k, 3 + 2 * k), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  };
  const parts = [0, 1, 2].map((k) => {
    const sum = (light(a, k) + light(b, k)) / 2;
    const part = sum <= 0.0031308 ? 12.92 * sum : 1.055 * sum ** (1 / 2.4) - 0.055;
    return Math.round(255 * part).toString(16).padStart(2, "0");
  });
  return `#${parts.join("")}`;
}
