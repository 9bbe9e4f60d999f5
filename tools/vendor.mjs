// Makes the vendored modules of the page and of its tests from the packages in node_modules, with their licences.
// Run by `npm run vendor` after a change of version in package.json; the outputs are committed, so nobody needs
// npm to run the program.
import { build } from "esbuild";
import { copyFile, mkdir, readFile, writeFile } from "node:fs/promises";

const page = "src/settwright/web/static/vendor";
const tests = "tests/page/axe";

const modules = {
  "lit-html": `export { html, svg, render, nothing } from "lit-html";
export { classMap } from "lit-html/directives/class-map.js";
export { repeat } from "lit-html/directives/repeat.js";
export { live } from "lit-html/directives/live.js";
export { ref } from "lit-html/directives/ref.js";
export { keyed } from "lit-html/directives/keyed.js";`,
  "signals-core": `export { signal, computed, effect, batch, untracked } from "@preact/signals-core";`,
};

await mkdir(page, { recursive: true });
await mkdir(tests, { recursive: true });
for (const [name, contents] of Object.entries(modules)) {
  const from = name === "lit-html" ? "lit-html" : "@preact/signals-core";
  const { version, license } = JSON.parse(await readFile(`node_modules/${from}/package.json`, "utf8"));
  await build({
    stdin: { contents, resolveDir: process.cwd() },
    bundle: true,
    minify: true,
    format: "esm",
    target: "es2022",
    legalComments: "eof",
    outfile: `${page}/${name}.js`,
    banner: { js: `/* ${from} ${version}, ${license}: see ${name}-LICENSE.txt */` },
  });
  await writeFile(`${page}/${name}.d.ts`, `// Types for the check only; made by tools/vendor.mjs.\n${contents}\n`);
  await copyFile(`node_modules/${from}/LICENSE`, `${page}/${name}-LICENSE.txt`);
}
const axe = JSON.parse(await readFile("node_modules/axe-core/package.json", "utf8"));
await copyFile("node_modules/axe-core/axe.min.js", `${tests}/axe.min.js`);
await copyFile("node_modules/axe-core/LICENSE", `${tests}/LICENSE.txt`);
await writeFile(`${tests}/README.md`, `axe-core ${axe.version}, ${axe.license} (LICENSE.txt): finds what keeps people out of a page. Used by the tests only.\n`);
