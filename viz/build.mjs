// Makes dist/ from the sources: the command, the library, the page's script, the workers, and the types.
import { execFileSync } from "node:child_process";
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import * as esbuild from "esbuild";

const at = (path) => fileURLToPath(new URL(`../${path}`, import.meta.url));
const onlyScripts = process.argv.includes("--scripts-only");

/** CommonJS packages inside an ES module ask for `require`. */
const requireBanner =
  'import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);';

const common = { bundle: true, minify: true, legalComments: "none", logLevel: "warning", absWorkingDir: at("."), metafile: true };
const forNode = {
  ...common,
  platform: "node",
  format: "esm",
  target: "node20",
  outdir: at("dist"),
  // Piscina starts files of its own; the other two are only there where studies go to many machines.
  external: ["piscina", "pg", "pg-boss"],
  banner: { js: requireBanner },
};
const forPage = {
  ...common,
  platform: "browser",
  format: "iife",
  target: "es2022",
  outdir: at("dist"),
  define: { "process.env.NODE_ENV": '"production"' },
};

/** [what it becomes in dist/, its source, how it is built] */
const bundles = [
  ["cli", "viz/cli.ts", forNode],
  ["index", "viz/index.ts", forNode],
  ["worker", "scenarios/run/worker.ts", forNode],
  ["study-worker", "scenarios/study/worker.ts", forNode],
  ["page", "viz/page/main.ts", forPage],
  ["page-worker", "viz/page/worker.ts", forPage],
  ["board", "viz/board/main.ts", forPage],
  ["board-worker", "viz/board/model/worker.ts", forPage],
  ["board-page", "viz/board/node-page.ts", forNode],
];

mkdirSync(at("dist"), { recursive: true });
const sizes = await Promise.all(
  bundles.map(async ([name, source, settings]) => {
    const { metafile } = await esbuild.build({ ...settings, entryPoints: { [name]: source } });
    return Object.entries(metafile.outputs).map(([path, { bytes }]) => `${path} ${(bytes / 1024).toFixed(0)} KB`);
  }),
);
chmodSync(at("dist/cli.js"), 0o755);

// The drawing board: one file that works from disk, and the same with what a host needs to make it installable.
const { boardPage, hostedFiles } = await import(pathToFileURL(at("dist/board-page.js")).href);
const [script, worker] = ["board", "board-worker"].map((name) => readFileSync(at(`dist/${name}.js`), "utf8"));
const alone = boardPage({ script, worker, kind: "file" });
writeFileSync(at("dist/sumpwright.html"), alone);
sizes.push([`dist/sumpwright.html ${(alone.length / 1024).toFixed(0)} KB`]);
mkdirSync(at("dist/hosted"), { recursive: true });
for (const [name, text] of Object.entries(hostedFiles(boardPage({ script, worker, kind: "hosted" }))))
  writeFileSync(at(`dist/hosted/${name}`), text);
writeFileSync(at("dist/scenario.schema.json"), execFileSync(process.execPath, [at("dist/cli.js"), "schema"]));
if (!onlyScripts) {
  const places = ["--outDir", at("dist/types"), "--rootDir", at(".")];
  execFileSync(process.execPath, [at("node_modules/typescript/bin/tsc"), "-p", at("viz/tsconfig.types.json"), ...places], {
    stdio: "inherit",
  });
}
console.log(sizes.flat().join("\n"));
