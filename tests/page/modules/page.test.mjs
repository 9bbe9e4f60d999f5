// What the page works out by itself, against figures done by hand.

import assert from "node:assert/strict";
import { test } from "node:test";
import { Looking, modulo, shortest } from "../../../src/settwright/web/static/app/geometry.js";
import * as sett from "../../../src/settwright/web/static/app/sett.js";
import { barAt, figures, placed, tile, way } from "../../../src/settwright/web/static/app/weave.js";

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

test("a mesh tells where a place is seen, and nothing where it knows nothing", () => {
  const grid = { x0: 0, y0: 0, step: 10, nx: 3, ny: 2, places: [0, 0, 20, 0, null, null, 0, -10, 20, -10, null, null] };
  const at = new Float64Array(2);
  placed(grid, figures(grid), 5, 5, at, 0);
  assert.deepEqual([...at], [10, -5]);
  placed(grid, figures(grid), 15, 5, at, 0);
  assert.ok(Number.isNaN(at[0]));
});
