// Bundles the page's sources into planform/report/seen/built: `npm ci && npm run build` in here.
//
// three.js is built apart, as what is used of it seldom changes; the pages find it as a global.
// The first line of each built file names the digest of all it was built from, so that a test can
// tell, without node, what was not built again.
import { build } from "esbuild";
import { createHash } from "node:crypto";
import { copyFileSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const target = join(here, "../../planform/report/seen/built");

/** Every source by its path from here. */
function sources(folder = "src") {
  const found = [];
  for (const entry of readdirSync(join(here, folder), { withFileTypes: true })) {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) found.push(...sources(path));
    else if (/\.(js|css)$/.test(entry.name)) found.push(path);
  }
  return found;
}

/** The digest of files, by path and content. */
function digest(paths) {
  const sum = createHash("sha256");
  for (const path of [...paths].sort()) {
    sum.update(path).update("\0").update(readFileSync(join(here, path))).update("\0");
  }
  return sum.digest("hex");
}

/** Has `import ... from "three"` read the global that three.js was built as. */
const threeApart = {
  name: "three apart",
  setup(made) {
    made.onResolve({ filter: /^three(\/|$)/ }, () => ({ path: "three", namespace: "apart" }));
    made.onLoad({ filter: /.*/, namespace: "apart" }, () => ({
      contents: "module.exports = globalThis.three;",
      loader: "js",
    }));
  },
};

/** Builds files that stand on `paths`, and marks them so. */
async function built(entries, paths, more = {}) {
  const mark = `/* built from ${digest(paths)} */`;
  await build({
    absWorkingDir: here,
    entryPoints: entries,
    outdir: target,
    bundle: true,
    minify: true,
    format: "iife",
    target: "es2021",
    legalComments: "none",
    charset: "utf8",
    banner: { js: mark, css: mark },
    logLevel: "warning",
    ...more,
  });
}

const THREE = ["src/three.js", "package-lock.json"];
mkdirSync(target, { recursive: true });
await built(["src/three.js"], THREE, { globalName: "three" });
await built(
  ["src/page.js", "src/explore.js", "src/bench.js", "src/page.css", "src/explore.css", "src/bench.css"],
  sources().filter((path) => !THREE.includes(path)),
  { plugins: [threeApart] },
);
copyFileSync(join(here, "node_modules/three/LICENSE"), join(target, "LICENCE-three.txt"));
