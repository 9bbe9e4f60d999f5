// What the page works out by itself, against figures done by hand.

import assert from "node:assert/strict";
import { test } from "node:test";
import { Looking, modulo, shortest } from "../../../src/settwright/web/static/app/geometry.js";
import * as sett from "../../../src/settwright/web/static/app/sett.js";
import { Raster, shares } from "../../../src/settwright/web/static/app/raster.js";
import { barAt, stretches, tile, way } from "../../../src/settwright/web/static/app/weave.js";

test("a place of a repeat is never negative, and the way between two is the shorter one", () => {
  assert.equal(modulo(-3, 70), 67);
  assert.equal(shortest(68, 2, 70), 4);
  assert.equal(shortest(2, 68, 70), -4);
});

test("zooming holds the place under the hand still", () => {
  const look = new Looking(10, 20, 2);
  const before = look.back([110, 220]);
  assert.deepEqual(look.zoomed(3, [110, 220], 0.1, 10).back([110, 220]).map(Math.round), before);
  assert.equal(look.zoomed(100, [0, 0], 0.1, 10).zoom, 10);
});

test("a box is shown whole", () => {
  const look = Looking.whole([0, 0, 100, 50], 220, 220, 10);
  assert.equal(look.zoom, 2);
  assert.deepEqual(look.back([10, 60]), [0, 0]);
});

test("bars are read as they are written", () => {
  assert.deepEqual(sett.readBar("navy 12 mm"), { colour: "navy", width: "12 mm" });
  assert.deepEqual(sett.readBar("dark moss 3/8"), { colour: "dark moss", width: "3/8" });
  assert.deepEqual(sett.readBar("cream ½"), { colour: "cream", width: "½" });
});

test("a width is read and written in the unit of its bars", () => {
  assert.equal(sett.widthOf("1 1/4", 25.4), 31.75);
  assert.equal(sett.widthOf("½", 25.4), 12.7);
  assert.equal(sett.widthOf("2,5", 10), 25);
  assert.equal(sett.widthOf("12 mm", 25.4), 12);
  assert.equal(sett.widthOf("bananas", 10), null);
  const inches = sett.read({ bars_in: "inches", bars: [] });
  assert.equal(sett.widthText(31.75, inches, "cm"), "1 1/4");
  assert.equal(sett.widthText(9.525, inches, "cm"), "3/8");
  const threads = sett.read({ bars_in: "threads", threads_per_cm: 20, bars: [] });
  assert.equal(sett.unitOf(threads, "cm"), 0.5);
  assert.equal(sett.widthText(6, threads, "cm"), "12");
});

test("a section goes back as it came", () => {
  for (const written of ["cream", "as warp", ["navy 3", "ivory 1"], { bars_in: "mm", mirrored: true, bars: ["navy 12", "ivory 3"] }]) {
    assert.deepEqual(sett.write(sett.read(written)), written);
  }
});

test("a mirrored list comes back without its two turning bars", () => {
  const bars = ["a", "b", "c", "d"].map((colour) => ({ colour, width: 1 }));
  assert.equal(sett.whole(bars, true).map((bar) => bar.colour).join(""), "abcdcb");
});

test("half of black and half of white is mixed in light: 188 of 255 (sRGB transfer curve, IEC 61966-2-1)", () => {
  assert.equal(sett.mix("#000000", "#ffffff"), "#bcbcbc");
});

const plaid = {
  warp: { repeat: 30, bars: [{ name: "a 1", colour: "a", width: 20 }, { name: "b 1", colour: "b", width: 10 }] },
  weft: { repeat: 12, bars: [{ name: "a 1", colour: "a", width: 9 }, { name: "c 1", colour: "c", width: 3 }] },
  woven: { a: { a: "#aa0000", c: "#ac0000" }, b: { a: "#ba0000", c: "#bc0000" } },
};

test("a tile covers its repeat, the ground first and the crossings last", () => {
  const coats = tile(plaid);
  assert.deepEqual(coats[0], [0, 0, 30, 12, "#aa0000"]);
  assert.deepEqual(coats.at(-1), [20, 9, 10, 3, "#bc0000"]);
  assert.equal(way(plaid.warp).ground, "a");
  assert.deepEqual(barAt(plaid.warp, -5).bar.name, "b 1");
});

test("bars between two places come in order, cut where the stretch begins and ends", () => {
  assert.deepEqual(stretches(plaid.warp, -5, 25), [
    { colour: "b", from: -5, to: 0 },
    { colour: "a", from: 0, to: 20 },
    { colour: "b", from: 20, to: 25 },
  ]);
});

test("a dot on the edge of two bars shows half of each", () => {
  const told = shares(plaid.warp, 30, 2); // the twentieth step's middle lies 0.5 mm before the edge at 20 mm
  assert.deepEqual(told[10], [{ colour: "a", share: 1 }]);
  assert.deepEqual(told[19].map(({ colour, share }) => [colour, Math.round(100 * share)]), [["a", 75], ["b", 25]]);
});

globalThis.ImageData = class {
  constructor(width, height) {
    Object.assign(this, { width, height, data: new Uint8ClampedArray(4 * width * height) });
  }
};

/** A picture of one piece 60 mm wide and 36 mm high that lies flat, its grain mark at the lower left. */
const flat = {
  layers: [{ grounds: [], patches: [{ piece: "front", outline: "M0 0L60 0L60 -36L0 -36Z",
    grid: { x0: 0, y0: 0, step: 12, nx: 6, ny: 4, places: Array.from({ length: 24 }, (_, k) => [12 * (k % 6), -12 * Math.floor(k / 6)]).flat() } }] }],
};
const area = { left: -10, top: -82, width: 140, height: 92 };

/** Returns the colour at a dot as "#rrggbb", null where nothing is drawn. */
function dot(raster, x, y) {
  const k = (y - area.top) * area.width + x - area.left;
  const bytes = raster.image.data.slice(4 * k, 4 * k + 4);
  return bytes[3] ? "#" + [...bytes.slice(0, 3)].map((part) => part.toString(16).padStart(2, "0")).join("") : null;
}

test("each dot shows the bars of the place that lies under it, wherever the cloth is slid", () => {
  const raster = new Raster(flat, 2, area, "#ffffff");
  const cloth = { ...plaid, colour: "#aa0000" };
  for (const [u, v] of [[0, 0], [7, 2], [-13.5, 40]]) {
    raster.dye({ shell: cloth }, { front: { cloth: "shell" } }, { front: [u, v, false, false] });
    for (const [x, y] of [[3.25, 4.25], [25.25, 10.25], [40.25, 20.25], [57.25, 33.25]]) {
      const [warp, weft] = [barAt(plaid.warp, u + x), barAt(plaid.weft, v + y)];
      const isClear = [warp, weft].every(({ bar, into }) => into > 0.6 && into < bar.width - 0.6);
      const shown = dot(raster, Math.floor(2 * x), Math.floor(-2 * y));
      if (isClear) assert.equal(shown, plaid.woven[warp.bar.colour][weft.bar.colour], `${u} ${v}: ${x} ${y}`);
    }
  }
  assert.equal(dot(raster, -4, -10), null);
  assert.equal(dot(raster, 60, 4), null);
});

test("only what slid is dyed anew, and what lies anywhere is plain", () => {
  const raster = new Raster(flat, 2, area, "#ffffff");
  const dye = (phase) => raster.dye({ shell: { ...plaid, colour: "#123456" } }, { front: { cloth: "shell" } }, { front: phase });
  assert.deepEqual(dye([0, 0, true, true]), { left: 0, top: 10, width: 140, height: 72 });
  assert.equal(dot(raster, 50, -30), "#123456");
  assert.equal(dye([1, 1, true, true]), null);
});
