// The command line in adverse conditions: full disks, readers that leave, folders in the way, hostile names, standard input.
import { spawn, spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { OutputProblem, prepareOutputs, writeWhole } from "../../viz/outputs.ts";

const project = fileURLToPath(new URL("../../", import.meta.url));
const cli = join(project, "dist/cli.js");
let folder = "";

beforeAll(() => {
  if (!existsSync(cli)) throw new Error("dist/cli.js is missing: npm run build makes it");
  folder = mkdtempSync(join(tmpdir(), "sumpwright-edges-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Two days with the sump filled to the rim: quick, and with an alarm among its findings. */
const BRIM = `sumpwright: 1
name: Brim
tank: { outside: 100 x 40 x 50 cm }
sump: { outside: 60 x 35 x 40 cm, water: 38 cm }
return: { pump: 2000 L/h, outlet: 20 cm }
seed: mature
stock: [{ name: tetras, count: 10, mass: 2 g }]
days: 2
`;

const put = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return name;
};

interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}
function sumpwright(args: readonly string[], input?: string): Ended {
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], {
    cwd: folder,
    encoding: "utf8",
    timeout: 150_000,
    ...(input === undefined ? {} : { input }),
  });
  return { code: status, out: stdout, err: stderr };
}
/** The same through a shell, for redirections and pipes; the exit code is that of the command itself. */
function inShell(line: string): Ended {
  const { status, stdout, stderr } = spawnSync(
    "bash",
    ["-c", `set -o pipefail; sumpwright() { "$NODE" "$CLI" "$@"; }; ${line}`],
    {
      cwd: folder,
      encoding: "utf8",
      timeout: 150_000,
      env: { ...process.env, NODE: process.execPath, CLI: cli },
    },
  );
  return { code: status, out: stdout, err: stderr };
}
const quick = ["--runs", "0", "--format", "json"];

describe("a set of outputs is written as a whole or not at all", () => {
  const remains = (path: string): string[] => readdirSync(path).filter((name) => name.includes("sumpwright-"));

  test("when one file cannot be put in place, the earlier set is restored", () => {
    const out = join(folder, "whole");
    mkdirSync(out);
    writeWhole(out, [
      { name: "a.txt", text: "old a" },
      { name: "c.txt", text: "old c" },
    ]);
    // A folder cannot be moved aside to a name that another, non-empty folder has.
    mkdirSync(join(out, "b.txt"));
    mkdirSync(join(out, `b.txt.sumpwright-${process.pid}.earlier/full`), { recursive: true });
    expect(() =>
      writeWhole(out, [
        { name: "a.txt", text: "new a" },
        { name: "new.txt", text: "new" },
        { name: "b.txt", text: "new b" },
        { name: "c.txt", text: "new c" },
      ]),
    ).toThrow(OutputProblem);
    expect(readFileSync(join(out, "a.txt"), "utf8")).toBe("old a");
    expect(readFileSync(join(out, "c.txt"), "utf8")).toBe("old c");
    expect(existsSync(join(out, "new.txt"))).toBe(false);
    expect(readdirSync(out).filter((name) => name.endsWith(".part"))).toEqual([]);
  });

  test("remains of a killed process are removed, and a file that it had moved aside is restored; other files stay", () => {
    const out = join(folder, "killed");
    mkdirSync(out);
    const dead = spawnSync(process.execPath, ["-e", ""]).pid;
    writeFileSync(join(out, `.sumpwright-${dead}-1.part`), "half");
    writeFileSync(join(out, `kept.json.sumpwright-${dead}.earlier`), "set aside");
    writeFileSync(join(out, `.sumpwright-${process.pid}-9.part`), "of a process that runs");
    writeFileSync(join(out, ".download.1234.part"), "a stranger's");
    prepareOutputs(out, ["x.json"]);
    expect(readdirSync(out).sort()).toEqual([".download.1234.part", `.sumpwright-${process.pid}-9.part`, "kept.json"]);
    expect(readFileSync(join(out, "kept.json"), "utf8")).toBe("set aside");
  });

  test("names that clash are found before the run: with each other, in letter case only, or with a scenario", () => {
    expect(() => prepareOutputs(folder, ["A.json", "a.json"])).toThrow(/two results would have this name/);
    put("own.json", BRIM);
    const { code, err } = sumpwright(["run", "own.json", "--out", ".", ...quick]);
    expect(code).toBe(2);
    expect(err).toBe("own.json: this result would replace the scenario it comes from; write to another folder with --out\n");
    expect(readFileSync(join(folder, "own.json"), "utf8")).toBe(BRIM);
  });

  test("a clash is also found where the scenario is reached through a link", () => {
    mkdirSync(join(folder, "real"));
    put("real/linked.json", BRIM);
    symlinkSync(join(folder, "real"), join(folder, "link"));
    expect(sumpwright(["run", "link/linked.json", "--out", "real", ...quick]).code).toBe(2);
    expect(readFileSync(join(folder, "real/linked.json"), "utf8")).toBe(BRIM);
  });

  test("a scenario called index or compared keeps its page beside the list", () => {
    put("index.yaml", BRIM);
    put("compared.yaml", BRIM.replace("Brim", "Other"));
    expect(sumpwright(["run", "index.yaml", "compared.yaml", "--out", "o-index", "--runs", "0"]).code).toBe(0);
    expect(readdirSync(join(folder, "o-index")).sort()).toEqual(["compared.html", "index-2.html", "index.html"]);
  });

  test.each(["page.html", "page.json"])("a folder called %s is found before the run", (name) => {
    put("page.yaml", BRIM);
    mkdirSync(join(folder, `o-${name}`, name), { recursive: true });
    const { code, err } = sumpwright(["run", "page.yaml", "--out", `o-${name}`, "--runs", "0", "--format", "html,json"]);
    expect(code).toBe(2);
    expect(err).toBe(`${join(`o-${name}`, name)}: cannot be written: a folder of that name is in the way\n`);
    expect(readdirSync(join(folder, `o-${name}`))).toEqual([name]);
  });

  test("a place that cannot be written is found before the run and reported in words", () => {
    put("plain", "a file");
    put("page.yaml", BRIM);
    const told = (out: string): string => {
      const { code, out: stdout, err } = sumpwright(["run", "page.yaml", "--out", out, ...quick]);
      expect([code, stdout]).toEqual([2, ""]);
      return err;
    };
    expect(told("plain/sub")).toMatch(/cannot be written: a file is in the way where a folder should be\n$/);
    expect(told("plain")).toMatch(/this is a file, not a folder\n$/);
    expect(told(`${"n".repeat(300)}/x`)).toMatch(/the name is too long\n$/);
    if (existsSync("/proc/self")) {
      const start = Date.now();
      expect(told("/proc/nowhere/deep")).toMatch(/^\/proc\/nowhere: cannot be written: no folder can be made there\n$/);
      expect(Date.now() - start).toBeLessThan(10_000);
    }
  });

  test("a run that does not finish leaves no empty folders", () => {
    put("wrong.yaml", BRIM.replace("days: 2", "days: two"));
    expect(sumpwright(["run", "wrong.yaml", "--out", "never/made", ...quick]).code).toBe(2);
    expect(existsSync(join(folder, "never"))).toBe(false);
  });

  test("a disk that fills up during writing gives code 2; the earlier result stays and no remains are left", () => {
    // A limit on the file size replaces the full disk, which only the administrator could make: it also fails during writing.
    const out = join(folder, "small");
    mkdirSync(out);
    put("page.yaml", BRIM);
    writeFileSync(join(out, "page.json"), "earlier");
    const { code, err } = inShell(`ulimit -f 8; trap '' XFSZ; sumpwright run page.yaml --out small --runs 0 --format json`);
    expect(err).toMatch(/^small\/page\.json: cannot be written: /);
    expect(code).toBe(2);
    expect(readFileSync(join(out, "page.json"), "utf8")).toBe("earlier");
    expect(remains(out)).toEqual([]);
  });
});

describe("exit codes do not depend on the output", () => {
  beforeAll(() => {
    put("brim.yaml", BRIM);
  });
  const alarm = "sumpwright run brim.yaml --runs 0 --format json --fail-on alarm --out";

  test("a reader that leaves early changes nothing", () => {
    expect(inShell("sumpwright schema | true").code).toBe(0);
    expect(inShell("sumpwright schema | head -n 1")).toMatchObject({ code: 0, out: "{\n", err: "" });
    expect(inShell(`${alarm} o-true | true`).code).toBe(1);
    expect(statSync(join(folder, "o-true/brim.json")).size).toBeGreaterThan(1000);
    expect(inShell("sumpwright check nowhere.yaml 2>&1 | true").code).toBe(2);
  });

  test("closed standard output or standard error changes nothing", () => {
    expect(inShell(`${alarm} o-closed >&-`).code).toBe(1);
    expect(inShell("sumpwright check nowhere.yaml 2>&-").code).toBe(2);
    expect(inShell("sumpwright check brim.yaml >&- 2>&-").code).toBe(0);
  });

  test.runIf(existsSync("/dev/full"))("a full disk under standard output is a failure; under standard error it is not", () => {
    expect(inShell("sumpwright check brim.yaml >/dev/full")).toMatchObject({
      code: 2,
      err: "standard output cannot be written: the disk is full\n",
    });
    expect(inShell("sumpwright schema >/dev/full").code).toBe(2);
    expect(inShell("sumpwright check nowhere.yaml 2>/dev/full").code).toBe(2);
    expect(inShell(`${alarm} o-full 2>/dev/full`).code).toBe(1);
    expect(inShell("sumpwright check brim.yaml >/dev/full 2>/dev/full").code).toBe(2);
  });
});

describe("invisible characters", () => {
  const hostile = `sumpwright: 1
name: "\\e[2J\\e[HHOLDS"
"ta\\u202Enk": 3
tank: { outside: 100 x 40 x 50 cm }
sump: { outside: 60 x 35 x 40 cm, water: 18 cm }
return: { pump: 2000 L/h }
timeline:
  - { at: day 1, do: feed, label: "feed\\nDTSTART:20270101" }
`;
  /** Anything but printable characters and line breaks. */
  const UNSEEN = /(?!\n)[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/u;

  test("names with them are refused, and error messages show them as code points", () => {
    put("hostile.yaml", hostile);
    const { code, err, out } = sumpwright(["check", "hostile.yaml"]);
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(err).not.toMatch(UNSEEN);
    expect(err).toContain("name: U+001B, which does not show, cannot be part of this text: take it out");
    expect(err).toContain("timeline[1].label: a line end cannot be part of this text: take it out");
    expect(err).toContain('there is no key "ta\\u{202E}nk" here');
  });

  test("in a file or its name they are shown as visible signs, with the caret in the right place", () => {
    const name = "raw\u001b[2J\u202e.yaml";
    put(name, BRIM.replace("name: Brim", "name: x\u0085\u202ey").replace("days: 2", "# \u001b[2J\ndays: two \u202e"));
    const { err } = sumpwright(["check", name]);
    expect(err).not.toMatch(UNSEEN);
    expect(err).toMatch(/^raw\\u\{001B\}\[2J\\u\{202E\}\.yaml:/);
  });
});

describe("standard input, quiet, version", () => {
  test("- reads a scenario from standard input", () => {
    expect(sumpwright(["check", "-"], BRIM)).toMatchObject({ code: 0, err: "" });
    expect(sumpwright(["check", "-"], BRIM.replace("days: 2", "days: two")).err).toMatch(/^standard input:8:7 days: /);
    expect(sumpwright(["run", "-", "--out", "o-in", ...quick], BRIM).code).toBe(0);
    expect(readdirSync(join(folder, "o-in"))).toEqual(["scenario.json"]);
    expect(sumpwright(["check", "-", "-"], BRIM)).toMatchObject({ code: 2, err: "standard input (-) can be read only once\n" });
    expect(sumpwright(["run", "-", "--watch"], BRIM).code).toBe(2);
  });

  test.runIf(existsSync("/dev/zero"))("an endless file is refused", () => {
    expect(sumpwright(["check", "/dev/zero"])).toMatchObject({ code: 2, err: "/dev/zero: far too long for a scenario\n" });
  });

  test("--quiet prints nothing but errors", () => {
    put("brim.yaml", BRIM);
    expect(sumpwright(["run", "brim.yaml", "--quiet", "--out", "o-quiet", ...quick])).toEqual({ code: 0, out: "", err: "" });
    expect(sumpwright(["check", "brim.yaml", "--quiet"])).toEqual({ code: 0, out: "", err: "" });
    expect(sumpwright(["check", "nowhere.yaml", "-q"])).toEqual({
      code: 2,
      out: "",
      err: "nowhere.yaml: there is no such file\n",
    });
  });

  test("--version prints the version of the package", () => {
    const { version } = JSON.parse(readFileSync(join(project, "package.json"), "utf8")) as { version: string };
    expect(sumpwright(["--version"])).toEqual({ code: 0, out: `${version}\n`, err: "" });
  });
});

describe("a first file, the keys, and completion", () => {
  test("new writes a file without errors, and never overwrites one", () => {
    const made = sumpwright(["new", "first.yaml", "--tank", "48 x 18 x 21 in", "--name", "Café: #1"]);
    expect(made).toEqual({ code: 0, out: "first.yaml is written. Run it with: sumpwright run first.yaml\n", err: "" });
    const text = readFileSync(join(folder, "first.yaml"), "utf8");
    expect(text).toContain("outside: 48 x 18 x 21 in # length x width x height");
    expect(sumpwright(["check", "first.yaml"])).toMatchObject({ code: 0, err: "" });
    // The lines that are commented out with # are valid too.
    put("whole.yaml", text.replace(/^( *)# ((?:water line|overflow|tower|stock|timeline| {2}- ).*)$/gm, "$1$2"));
    expect(sumpwright(["check", "whole.yaml"])).toMatchObject({ code: 0, err: "" });
    expect(sumpwright(["new", "first.yaml"])).toMatchObject({
      code: 2,
      err: "first.yaml: there is a file of this name: give another name\n",
    });
    expect(sumpwright(["new", "no/such/folder.yaml"]).err).toBe(
      "no/such/folder.yaml: cannot be written: no folder can be made there\n",
    );
    expect(sumpwright(["new", "x.yaml", "--pump", "600 gph"])).toMatchObject({
      code: 2,
      err: expect.stringMatching(/^--pump: "gph" may be US/),
    });
    expect(existsSync(join(folder, "x.yaml"))).toBe(false);
  });

  test("keys lists every key of the JSON Schema with an example, one section, or an event", () => {
    const all = sumpwright(["keys"]).out;
    const schema = JSON.parse(sumpwright(["schema"]).out) as { properties: Record<string, unknown> };
    for (const key of Object.keys(schema.properties)) expect(all).toMatch(new RegExp(`^${key}\n {2}[A-Zp].*[.]\n`, "m"));
    expect(all.match(/^ {2}Example: .+$/gm)!.length).toBe(all.split("\n\n").length);
    expect(all).not.toMatch(/^ {2}\.$|undefined|\[object/m);
    expect(sumpwright(["keys", "return.hole.bore"]).out).toBe(
      "return.hole.bore\n  Its diameter (length, 0.5 mm to 30 mm).\n  Takes: a quantity with its unit.\n  When left out: 4 mm, common practice, no published source.\n  Example: bore: 4 mm\n",
    );
    expect(sumpwright(["keys", "water", "change"]).out).toMatch(/^timeline: water change\n/);
    expect(sumpwright(["keys", "towr"])).toMatchObject({ code: 2, err: 'there is no key "towr": did you mean "tower"?\n' });
    expect(readFileSync(join(project, "dist/keys.md"), "utf8")).toBe(sumpwright(["keys", "--markdown"]).out);
  });

  test("bash completes commands and options", () => {
    const { out } = inShell(`eval "$(sumpwright completion bash)"
      tried() { COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMPREPLY=(); _sumpwright; echo "\${COMPREPLY[*]}"; }
      tried sumpwright ch; tried sumpwright run --tog; tried sumpwright new --tap; tried sumpwright completion z`);
    expect(out).toBe("check\n--together\n--tap-ph --tap-kh\nzsh\n");
    for (const shell of ["zsh", "fish"]) expect(sumpwright(["completion", shell])).toMatchObject({ code: 0, err: "" });
    expect(sumpwright(["completion", "other"]).code).toBe(2);
  });
});

test("--watch runs again when the file changes, and continues after an error in it", async () => {
  put("watched.yaml", BRIM);
  const child = spawn(process.execPath, [cli, "run", "watched.yaml", "--watch", "--out", "o-watch", ...quick], { cwd: folder });
  let words = "";
  child.stdout.on("data", (chunk: Buffer) => (words += chunk.toString()));
  child.stderr.on("data", (chunk: Buffer) => (words += chunk.toString()));
  const ended = new Promise((resolve) => child.on("exit", resolve));
  const formatMessage = async (pattern: RegExp): Promise<void> => {
    for (let waited = 0; !pattern.test(words); waited += 50) {
      if (waited > 150_000) throw new Error(`waited in vain for ${pattern}: ${words}`);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    words = "";
  };
  try {
    await formatMessage(/Brim[\s\S]*Watching watched\.yaml/);
    put("watched.yaml", BRIM.replace("Brim", "Changed once"));
    await formatMessage(/Changed once[\s\S]*Watching/);
    put("watched.yaml", BRIM.replace("days: 2", "days: two"));
    await formatMessage(/watched\.yaml:8:7 days:[\s\S]*Watching/);
    put("watched.yaml", BRIM.replace("Brim", "Mended"));
    await formatMessage(/Mended[\s\S]*Watching/);
  } finally {
    child.kill("SIGTERM");
    await ended;
  }
});
