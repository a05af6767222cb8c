// Makes dist/ from the sources: the command, the library, the page's script, the workers, the types, and the licences of what is in them.
import { spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const tools = await Promise.all([import("esbuild"), import("fflate")]).catch((error) => {
  // After `npm ci --omit=dev` there is nothing to build with, and no reason for the installation to fail.
  if (error.code !== "ERR_MODULE_NOT_FOUND" || !process.argv.includes("--where-possible")) throw error;
  console.log("Not built: the development packages are not installed.");
  process.exit(0);
});
const [esbuild, { gzipSync }] = tools;

const at = (path) => fileURLToPath(new URL(`../${path}`, import.meta.url));
const onlyScripts = process.argv.includes("--scripts-only");

/** CommonJS packages inside an ES module ask for `require`. */
const requireBanner =
  'import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);';

// The licences of what is bundled are written whole, once, beside the scripts.
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
const browser = {
  ...common,
  platform: "browser",
  target: "es2022",
  outdir: at("dist"),
  define: { "process.env.NODE_ENV": '"production"' },
};
/**
 * The page reads scenarios and never writes their JSON Schema, which the schema library attaches to every type. Its functions are replaced by one that
 * throws, which takes 16 KB out of each worker.
 */
const withoutJsonSchema = {
  name: "without JSON Schema",
  setup(build) {
    build.onLoad({ filter: /zod\/v4\/core\/(?:to-json-schema|json-schema-processors)\.js$/ }, ({ path }) => {
      const names = [...readFileSync(path, "utf8").matchAll(/^export (?:const|function|class) (\w+)/gm)].map(([, name]) => name);
      const none = "const none = () => { throw new Error('there is no JSON Schema in the page'); }; const make = () => none;";
      const lines = names.map((name) => `export const ${name} = ${name.startsWith("create") ? "make" : "none"};`);
      return { contents: [none, ...lines, "export { none as process };"].join("\n"), loader: "js" };
    });
  },
};
const forPage = { ...browser, format: "iife" };
const forWorker = { ...forPage, plugins: [withoutJsonSchema] };

/** [what it becomes in dist/, its source, how it is built] */
const bundles = [
  ["cli", "viz/cli.ts", forNode],
  ["index", "viz/index.ts", forNode],
  ["browser", "viz/browser.ts", { ...browser, format: "esm" }],
  ["worker", "scenarios/run/worker.ts", forNode],
  ["forecast-worker", "scenarios/forecast/worker.ts", forNode],
  ["study-worker", "scenarios/study/worker.ts", forNode],
  ["point-page-worker", "viz/point-page-worker.ts", forNode],
  ["page", "viz/page/main.ts", forPage],
  ["page-worker", "viz/page/worker.ts", forWorker],
  ["board", "viz/board/main.ts", forPage],
  ["board-worker", "viz/board/model/worker.ts", forWorker],
  ["board-page", "viz/board-page.ts", forNode],
];

/** Folders of the packages of which a bundle holds something. */
const packagesIn = ({ outputs }) =>
  Object.values(outputs)
    .flatMap(({ inputs }) => Object.entries(inputs))
    .filter(([, { bytesInOutput }]) => bytesInOutput > 0)
    .map(([path]) => /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1])
    .filter((folder) => folder !== undefined);

/** A list of packages with the text of each licence; packages with the same text stand together. */
function notices(folders) {
  const byText = new Map();
  for (const folder of [...folders].sort()) {
    const { name, version, license } = JSON.parse(readFileSync(at(join(folder, "package.json")), "utf8"));
    const file = readdirSync(at(folder)).find((f) => /^(licen[cs]e|copying|unlicense)/i.test(f));
    // A package that brings no file names its licence at the end of its README, or only in its description.
    const readme = readdirSync(at(folder)).find((f) => /^readme/i.test(f));
    const inReadme = readme
      ? /^(?:#+ *licen[cs]e|licen[cs]e.*\n-{3,}$)[\s\S]*/im.exec(readFileSync(at(join(folder, readme)), "utf8"))?.[0]
      : undefined;
    const text = (file ? readFileSync(at(join(folder, file)), "utf8") : (inReadme ?? `Licence: ${license}`))
      .replace(/\r/g, "")
      .trim();
    byText.set(text, [...(byText.get(text) ?? []), `${name} ${version} (${license})`]);
  }
  const rule = "-".repeat(72);
  return `${[...byText].map(([text, names]) => `${rule}\n${names.join("\n")}\n\n${text}\n`).join("\n")}`;
}

mkdirSync(at("dist"), { recursive: true });
const built = await Promise.all(
  bundles.map(async ([name, source, settings]) => {
    const { metafile } = await esbuild.build({ ...settings, entryPoints: { [name]: source } });
    return { name, metafile };
  }),
);
const inBundles = (names) =>
  new Set(built.filter(({ name }) => names.includes(name)).flatMap(({ metafile }) => [...packagesIn(metafile)]));
const inPage = "This page holds parts of the following packages, under their licences:";
writeFileSync(at("dist/page-notices.txt"), `${inPage}\n\n${notices(inBundles(["page", "page-worker"]))}`);
writeFileSync(
  at("dist/THIRD-PARTY.txt"),
  `The files of this folder hold parts of the following packages, under their licences.\n\n${notices(inBundles(bundles.map(([name]) => name)))}`,
);
writeFileSync(at("dist/board-notices.txt"), `${inPage}\n\n${notices(inBundles(["board", "board-worker"]))}`);
for (const name of ["page-worker", "board-worker"]) {
  const worker = readFileSync(at(`dist/${name}.js`));
  writeFileSync(at(`dist/${name}.gz.txt`), Buffer.from(gzipSync(worker, { level: 9, mtime: 0 })).toString("base64"));
  rmSync(at(`dist/${name}.js`));
}
// The drawing board: one file that works from disk, and the same with what a host needs to make it installable.
const { boardPage, hostedFiles } = await import(pathToFileURL(at("dist/board-page.js")).href);
const text = (name) => readFileSync(at(`dist/${name}`), "utf8");
const board = { script: text("board.js"), worker: text("board-worker.gz.txt"), notices: text("board-notices.txt") };
writeFileSync(at("dist/sumpwright.html"), boardPage({ ...board, kind: "file" }));
mkdirSync(at("dist/hosted"), { recursive: true });
for (const [name, content] of Object.entries(hostedFiles(boardPage({ ...board, kind: "hosted" }))))
  writeFileSync(at(`dist/hosted/${name}`), content);
rmSync(at("dist/board-page.js"));
chmodSync(at("dist/cli.js"), 0o755);
const { scenarioJsonSchema } = await import(pathToFileURL(at("dist/index.js")));
writeFileSync(at("dist/scenario.schema.json"), `${JSON.stringify(scenarioJsonSchema(), null, 2)}\n`);
const { status, stdout } = spawnSync(process.execPath, [at("dist/cli.js"), "keys", "--markdown"], { encoding: "utf8" });
if (status !== 0) throw new Error("the list of keys could not be made");
writeFileSync(at("dist/keys.md"), stdout);
if (!onlyScripts) await (await import("./declarations.mjs")).writeDeclarations(["index", "browser"]);
for (const { metafile } of built)
  for (const [path, { bytes }] of Object.entries(metafile.outputs)) console.log(`${path} ${(bytes / 1024).toFixed(0)} KB`);
