import { readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";

const project = dirname(dirname(fileURLToPath(import.meta.url)));
const LAYERS = ["sim", "models", "scenarios", "viz"] as const;

function sources(folder: string): string[] {
  return readdirSync(join(project, folder)).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(join(project, path)).isDirectory()) return sources(path);
    return /\.(?:ts|mjs)$/.test(name) && !name.endsWith(".d.ts") ? [path] : [];
  });
}

/** The imports of a file: from which file, what, and whether only types. */
function imports(file: string): { readonly from: string; readonly what: string; readonly typeOnly: boolean }[] {
  const text = readFileSync(join(project, file), "utf8");
  const statements = text.matchAll(/^(?:import|export)\s+(type\s+)?(?:[^;"']*?\sfrom\s+)?["']([^"']+)["']/gm);
  const dynamic = text.matchAll(/\bimport\(\s*["']([^"']+)["']\s*\)/g);
  return [
    ...[...statements].map((m) => ({ from: file, what: m[2]!, typeOnly: m[1] !== undefined })),
    ...[...dynamic].map((m) => ({ from: file, what: m[1]!, typeOnly: false })),
  ];
}

const all = LAYERS.flatMap((layer) => sources(layer).flatMap(imports));
const inProject = (from: string, what: string): string => relative(project, resolve(project, dirname(from), what));
const packageOf = (what: string): string =>
  what.startsWith("#")
    ? what.slice(1)
    : what
        .split("/")
        .slice(0, what.startsWith("@") ? 2 : 1)
        .join("/");
const told = (found: typeof all): string[] => found.map(({ from, what }) => `${from} imports ${what}`);

describe("imports go one way: viz -> scenarios -> models -> sim", () => {
  test("the sources have imports to check", () => expect(all.length).toBeGreaterThan(200));

  test("no layer imports one above it, and no source imports a test", () => {
    const wrong = all.filter(({ from, what }) => {
      if (!what.startsWith(".")) return false;
      const [own, other] = [from, inProject(from, what)].map((path) => LAYERS.findIndex((layer) => path.startsWith(`${layer}/`)));
      return other! < 0 || other! > own!;
    });
    expect(told(wrong)).toEqual([]);
  });

  test("relative imports name an existing file with its extension", () => {
    const wrong = all.filter(
      ({ from, what }) =>
        what.startsWith(".") &&
        !(/\.(?:ts|mjs|json)$/.test(what) && statSync(join(project, inProject(from, what)), { throwIfNoEntry: false })?.isFile()),
    );
    expect(told(wrong)).toEqual([]);
  });

  test("nothing imports the command line", () => {
    expect(told(all.filter(({ from, what }) => inProject(from, what) === "viz/cli.ts"))).toEqual([]);
  });
});

/**
 * The folders in order of dependency. A folder imports only from itself and from folders above it in this list, so no
 * import between folders goes back. Add a new folder here, as high in the list as its imports allow.
 */
const ROOMS: readonly string[] = [
  "sim",
  "sim/webassembly",
  "sim/formula",
  "sim/linear-algebra",
  "sim/integrators",
  "sim/events",
  "sim/ensemble",
  "sim/design",
  "sim/inference",
  "models/water",
  "models/gas",
  "models/heat",
  "models/life",
  "models",
  "models/tower",
  "models/hydraulics/laws",
  "models/hydraulics",
  "models/coupling",
  "models/hydraulics/network",
  "models/hydraulics/dynamics",
  "models/hydraulics/outage",
  "models/hydraulics/planning",
  "models/nitrogen",
  "models/nitrogen/kinetics",
  "models/nitrogen/reactor",
  "models/nitrogen/tank",
  "models/nitrogen/analysis",
  "models/nitrogen/operation",
  "models/nitrogen/events",
  "models/nitrogen/simulation",
  "models/outage",
  "scenarios/text",
  "scenarios/fields",
  "scenarios/timeline",
  "scenarios/schema",
  "scenarios/result",
  "scenarios/build",
  "scenarios/load",
  "scenarios/model",
  "scenarios/analysis",
  "scenarios/report",
  "scenarios/findings",
  "scenarios/forecast",
  "scenarios/sizing",
  "scenarios/run",
  "scenarios/study",
  "viz/board/core",
  "viz/view",
  "viz/style",
  "viz/cutaway",
  "viz/charts",
  "viz/sections",
  "viz/sheets",
  "viz/study",
  "viz/forecast",
  "viz/board/view",
  "viz",
  "viz/page",
  "viz/board/model",
  "viz/board",
];

describe("folders", () => {
  const floor = (file: string): number => ROOMS.indexOf(dirname(file));

  test("every source folder is in the list", () => {
    const homeless = [...new Set(LAYERS.flatMap(sources).map(dirname))].filter((folder) => !ROOMS.includes(folder));
    expect(homeless).toEqual([]);
  });

  test("no import goes to a folder further down the list", () => {
    const back = all.filter(
      ({ from, what }) => what.startsWith(".") && !what.endsWith(".json") && floor(inProject(from, what)) > floor(from),
    );
    expect(told(back)).toEqual([]);
  });
});

describe("restrictions by place", () => {
  /** Files that run only under Node. */
  const NODE_ONLY =
    /^(?:(?:scenarios|viz)\/study\/node-[^/]*\.ts|sim\/ensemble\/node-[^/]*\.ts|viz\/(?:[^/]*\.mjs|(?:cli[^/]*|assets|board-page|library|outputs|report)\.ts))$/;

  test("node: modules are only in files that run under Node", () => {
    expect(told(all.filter(({ from, what }) => what.startsWith("node:") && !NODE_ONLY.test(from)))).toEqual([]);
  });

  const HOMES: readonly (readonly [pkg: RegExp, home: RegExp])[] = [
    // The page's worker only disables zod's code generation, which the page's policy forbids.
    [
      /^zod$/,
      /^(?:scenarios\/(?:study|schema|fields|timeline|load)\/|viz\/(?:page\/worker|board\/model\/worker|board\/main)\.ts$)/,
    ],
    [/^yaml$/, /^scenarios\/load\//],
    [/^(?:d3|d3-.*)$/, /^viz\//],
    [/^commander$/, /^viz\/cli[^/]*\.ts$/],
    [/^odex$/, /^sim\//],
    [/^seedrandom$/, /^sim\//],
    [/^piscina$/, /^sim\//],
    [/^ml-matrix$/, /^(?:sim|models|scenarios)\//],
    [/^csv-parse$/, /^scenarios\/(?:study|forecast)\//],
    [/^hyparquet-writer$/, /^viz\/study\/node-/],
    [/^(?:pg|pg-boss)$/, /^scenarios\/study\/node-/],
    [/^ical-generator$/, /^viz\//],
    [/^fflate$/, /^viz\/(?:report\.ts|build\.mjs|board-page\.ts)$/],
    [/^esbuild$/, /^viz\/build\.mjs$/],
    [/^(?:preact|@codemirror\/.*|idb-keyval|qr)$/, /^viz\/board\//],
    [/^(?:typescript|rollup|rollup-plugin-dts)$/, /^viz\/declarations\.mjs$/],
  ];

  test("each package is used only where it is allowed", () => {
    const wrong = all.filter(({ from, what }) => {
      if (what.startsWith(".") || what.startsWith("node:")) return false;
      const home = HOMES.find(([pkg]) => pkg.test(packageOf(what)))?.[1];
      return home?.test(from) !== true;
    });
    expect(told(wrong)).toEqual([]);
  });

  test("tests take fast-check from tests/fast-check.ts, which fixes its random seed", () => {
    const direct = sources("tests").filter(
      (file) => file !== join("tests", "fast-check.ts") && imports(file).some(({ what }) => what === "fast-check"),
    );
    expect(direct).toEqual([]);
  });

  test("no source uses functions whose bits depend on the engine; sim/elementary.ts replaces them", () => {
    const wrong = LAYERS.flatMap(sources).filter((file) => {
      if (file === join("sim", "elementary.ts")) return false;
      // Comments may name them.
      const text = readFileSync(join(project, file), "utf8").replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, "");
      return /\*\*|Math\.(?:a?(?:sin|cos|tan)h?|atan2|exp|expm1|log|log1p|log2|log10|pow|cbrt|hypot)\b/.test(text);
    });
    expect(wrong).toEqual([]);
  });

  test("no source uses Math.random or suppresses a checker", () => {
    const wrong = LAYERS.flatMap(sources).filter((file) => {
      const text = readFileSync(join(project, file), "utf8");
      return /Math\.random|@ts-(?:ignore|expect-error|nocheck)|biome-ignore|eslint-disable|:\s*any\b|\bas any\b/.test(text);
    });
    expect(wrong).toEqual([]);
  });
});
