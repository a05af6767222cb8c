// The board's core without a browser: parts and text stay equivalent, every key of the format is reachable, nothing is lost.
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { placesOf, type Shape, sections } from "../../../scenarios/fields/insides.ts";
import {
  dataOf,
  type Edit,
  EditRefused,
  editedData,
  editedText,
  type Path,
  type Plain,
  valueAt,
} from "../../../scenarios/load/edits.ts";
import { errorText, loadScenario } from "../../../scenarios/load/load.ts";
import { coupleModels } from "../../../scenarios/model/compile.ts";
import { describe as described, mayRepeat, schemaAt, shapeFor } from "../../../scenarios/schema/describe.ts";
import { scenarioSchema } from "../../../scenarios/schema/schema.ts";
import { parseQuantity } from "../../../scenarios/text/units.ts";
import * as history from "../../../viz/board/core/history.ts";
import { EXTRA_LOSSES, PIPES, RUNS } from "../../../viz/board/core/lists.ts";
import { asKind, flat, freshSection, inspect, partGroups, placed, typed } from "../../../viz/board/core/parts.ts";
import { keepingRunIn } from "../../../viz/board/core/run-in.ts";
import { type Draw, drawOf } from "../../fuzz/draw.ts";
import { randomScenario } from "../../fuzz/random-scenario.ts";

const read = (example: string): Plain => parse(example) as Plain;
const shipped = readdirSync("scenarios/shipped", { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".yaml"))
  .map((name) => readFileSync(`scenarios/shipped/${name}`, "utf8"));

const isPlain = (v: unknown): v is Record<string, unknown> => typeof v === "object" && v !== null && !Array.isArray(v);

/** Comments such as a user writes: above a line, or at its end. */
function commented(text: string, draw: Draw): { text: string; comments: string[] } {
  const comments: string[] = [];
  const lines = text.split("\n").flatMap((line, i) => {
    if (line.trim() === "" || draw.chance(0.7)) return [line];
    const words = `# note ${i}`;
    comments.push(words);
    return draw.chance(0.5) || /[|>]$/.test(line) ? [`${/^ */.exec(line)![0]}${words}`, line] : [`${line} ${words}`];
  });
  return { text: lines.join("\n"), comments };
}

const commentsIn = (text: string): string[] => text.match(/# note \d+/g) ?? [];

/** A change that a user can make at a random part, through the inspector. */
function randomEdit(data: Record<string, unknown>, draw: Draw): Edit {
  const parts = flat(partGroups(data, []));
  const part = draw.pick(parts);
  const inspected = inspect(data, part.path, [])!;
  const roll = draw.uniform();
  const list = part.list;
  if (list && roll < 0.15)
    return { do: "insert", path: list, index: draw.whole(0, 3), value: freshSection([...list, 0], {}, read) };
  const here = list ? valueAt(data, list) : undefined;
  if (list && Array.isArray(here) && here.length > 1 && roll < 0.25)
    return { do: "move", path: list, from: draw.whole(0, here.length - 1), to: draw.whole(0, here.length - 1) };
  if (part.path.length > 0 && part.state === "written" && roll < 0.35) return { do: "remove", path: part.path };
  if (inspected.kinds && isPlain(valueAt(data, part.path)) && roll < 0.5) {
    const { key, words } = inspected.kinds;
    return { do: "set", path: part.path, value: asKind(part.path, data, key, draw.pick(words), read) };
  }
  if (part.path.length > 0 && part.state === "absent")
    return { do: "set", path: part.path, value: freshSection(part.path, data, read) };
  // The inspector shows the version of the format but does not change it.
  const fields = inspected.fields.filter(({ key }) => key !== "sumpwright");
  const field = fields.length > 0 ? draw.pick(fields) : null;
  if (!field) return { do: "set", path: ["notes"], value: `a note ${draw.whole(1, 99)}` };
  if (field.written !== null && !field.required && roll < 0.6) return { do: "remove", path: field.path };
  return { do: "set", path: field.path, value: typed(field, field.example.replace(/^\[(.*)\]$/, "$1"))! };
}

describe("parts and text", () => {
  test("200 random edits: parsing the edited text gives the edited parts, and comments stay", () => {
    let done = 0;
    for (let i = 0; done < 200; i++) {
      const draw = drawOf("board", i);
      const from = draw.chance(0.5) ? draw.pick(shipped) : randomScenario(draw, { mostTanks: 3 }).text;
      let { text, comments } = commented(from, draw);
      let data = dataOf(text)!;
      for (let k = 0; k < 5; k++) {
        const edit = randomEdit(data, draw);
        let next: string;
        try {
          next = editedText(text, [edit]);
        } catch (error) {
          if (error instanceof EditRefused) continue;
          throw error;
        }
        const expected = editedData(data, edit);
        const parsed = dataOf(next);
        expect(parsed, JSON.stringify(edit)).toEqual(expected);
        // Round trip: writing the parts of a text gives the same text.
        expect(editedText(next, [{ do: "set", path: ["sumpwright"], value: 1 }])).toBe(next);
        if (edit.do !== "remove" && !(edit.do === "set" && typeof edit.value === "object")) {
          const kept = commentsIn(next);
          const before = commentsIn(text);
          expect(
            before.filter((c) => !kept.includes(c)),
            `${JSON.stringify(edit)}\n${text}\n---\n${next}`,
          ).toEqual([]);
        }
        text = next;
        data = parsed!;
        comments = commentsIn(text);
        done++;
      }
      expect(comments.length).toBeGreaterThanOrEqual(0);
    }
    expect(done).toBeGreaterThanOrEqual(200);
  });

  test("an edit changes nothing but its own words", () => {
    for (const text of shipped) {
      const next = editedText(text, [{ do: "set", path: ["days"], value: 41 }]);
      // Adding a key may change spaces beside brackets.
      const bare = (line: string): string => line.replaceAll(/(?<=[[{]) +| +(?=[\]}])/g, "");
      const lines = text.split("\n").map(bare);
      const differing = next.split("\n").filter((line) => !lines.includes(bare(line)));
      expect(differing, next).toEqual(["days: 41"]);
    }
  });

  test("a single part becomes a list when another is added, in brackets as before", () => {
    const text = "sumpwright: 1\ntank: { outside: 60 x 30 x 30 cm } # the old one\n";
    const next = editedText(text, [{ do: "insert", path: ["tank"], index: 1, value: { outside: "80 x 30 x 30 cm" } }]);
    expect(next).toBe("sumpwright: 1\ntank:\n  - { outside: 60 x 30 x 30 cm } # the old one\n  - { outside: 80 x 30 x 30 cm }\n");
    expect(dataOf(editedText(next, [{ do: "remove", path: ["tank", 0] }]))).toEqual({
      sumpwright: 1,
      tank: [{ outside: "80 x 30 x 30 cm" }],
    });
  });

  test("an edit does not change a value given by reference", () => {
    const text = "sumpwright: 1\na: &x { b: 1 }\nc: *x\n";
    expect(() => editedText(text, [{ do: "set", path: ["c", "b"], value: 2 }])).toThrow(/by reference/);
  });
});

describe("every key of the format", () => {
  /** Opens every part and every kind of section as a user does, and collects the keys that the inspector shows. */
  function reached(): Set<string> {
    const seen = new Set<string>();
    const visit = (path: Path, data: Record<string, unknown>, depth: number): void => {
      const inspected = inspect(data, path, []);
      if (!inspected || depth > 7) return;
      const words = path.filter((step) => typeof step === "string").join(".");
      for (const field of inspected.fields) seen.add(words === "" ? field.key : `${words}.${field.key}`);
      const versions = inspected.kinds
        ? inspected.kinds.words.map((word) => asKind(path, data, inspected.kinds!.key, word, read))
        : [path.length === 0 ? (data as Plain) : freshSection(path, data, read)];
      for (const version of versions) {
        const at = path.length === 0 ? data : (editedData(data, { do: "set", path, value: version }) as Record<string, unknown>);
        const again = inspect(at, path, [])!;
        for (const field of again.fields) seen.add(words === "" ? field.key : `${words}.${field.key}`);
        const shape = shapeFor(schemaAt(path, at)!, path.length === 0 ? at : valueAt(at, path)) as Shape;
        for (const [key, field] of Object.entries(shape)) {
          if (sections(field, true).length === 0) continue;
          const inner = [...path, key];
          seen.add(inner.filter((s) => typeof s === "string").join("."));
          visit(mayRepeat(field) ? [...inner, 0] : inner, at, depth + 1);
        }
      }
    };
    visit([], { sumpwright: 1, name: "x" }, 0);
    return seen;
  }

  test("is shown by some inspector", () => {
    const seen = reached();
    const all = [...placesOf(scenarioSchema)].flatMap(([key, places]) =>
      places.map((place) => (place === "" ? key : `${place}.${key}`)),
    );
    expect(all.length).toBeGreaterThan(250);
    expect(all.filter((path) => !seen.has(path))).toEqual([]);
  });

  test("and every part is in the tree, in order of flow", () => {
    const groups = partGroups(dataOf(shipped[0]!), []);
    const top = groups.flatMap(({ parts }) => parts.map(({ path }) => path[0])).filter((key) => key !== undefined);
    const shape = sections(scenarioSchema)[0]!;
    const withSections = Object.keys(shape).filter((key) => sections(shape[key]!, true).length > 0);
    expect([...top].sort()).toEqual(withSections.sort());
    expect(top.slice(0, 4)).toEqual(["tank", "tower", "sump", "return"]);
  });

  test("its inspector shows the range, the default and the reason", () => {
    const shape = sections(scenarioSchema)[0]!;
    const water = inspect({ sump: { outside: "60 x 30 x 40 cm" } }, ["sump"], [])!.fields.find(({ key }) => key === "water")!;
    expect(water).toMatchObject({ required: true, range: "length, 10 mm to 3 m", usual: "100 mm to 600 mm", written: null });
    const days = described("days", shape.days!);
    expect(days.standsIn).toBe("60");
    const gravel = inspect({}, ["tank", 0], [])!.fields.find(({ key }) => key === "gravel")!;
    expect(gravel.standsIn).toBe("30 mm");
    expect(gravel.why).toMatch(/common practice/);
  });
});

describe("errors", () => {
  test("appear at their part and at their field", () => {
    const text =
      "sumpwright: 1\nname: x\ntank: { outside: 100 x 40 x 50 cm, gravel: 9 km }\nsump: { outside: 60 x 35 x 40 cm, water: 18 cm }\nreturn: { pump: 2000 L/h }\n";
    const loaded = loadScenario(text, "x.yaml");
    if (loaded.ok) throw new Error("this was to be refused");
    const errors = placed(loaded.errors);
    const tank = flat(partGroups(dataOf(text), errors)).find(({ path }) => path[0] === "tank")!;
    expect(tank.errors).toBe(1);
    const gravel = inspect(dataOf(text), tank.path, errors)!.fields.find(({ key }) => key === "gravel")!;
    expect(gravel.errors.map(({ line }) => line)).toEqual([3]);
  });
});

describe("history", () => {
  test("undo without limit, steps of one drag together", () => {
    let h = history.begin("0");
    for (let i = 1; i <= 3000; i++) h = history.changed(h, String(i));
    for (let i = 0; i < 50; i++) h = history.changed(h, `drag ${i}`, "drag water");
    h = history.undone(h);
    expect(h.text).toBe("3000");
    for (let i = 0; i < 5000; i++) h = history.undone(h);
    expect(h.text).toBe("0");
    for (let i = 0; i < 5000; i++) h = history.redone(h);
    expect(h.text).toBe("drag 49");
    expect(history.changed(h, "new").future).toEqual([]);
  });
});

describe("lists to pick from", () => {
  const boresOf = (title: string): readonly number[] =>
    PIPES.find((list) => list.title === title)!.picks.map(({ value }) => Number.parseFloat(String(value)));
  // Average inside diameters from trade tables, in inches (common practice, no published source).
  test.each([
    ["US Schedule 40", [0.602, 0.804, 1.029, 1.36, 1.59, 2.047]],
    ["US Schedule 80", [0.526, 0.722, 0.936, 1.255, 1.476, 1.913]],
  ])("bores of %s are those of the trade's tables", (title, inches) => {
    const bores = boresOf(title);
    for (const [i, inch] of inches.entries()) expect(Math.abs(bores[i]! - inch * 25.4)).toBeLessThan(0.1);
  });

  // BS 5255:1989, foreword: smallest bores of 31.75, 38.1 and 50.8 mm.
  test("bores of UK waste pipe are the smallest that the standard allows", () => {
    for (const [i, mm] of [31.75, 38.1, 50.8].entries())
      expect(Math.abs(boresOf("UK waste pipe, solvent weld")[i]! - mm)).toBeLessThan(0.051);
  });

  test("the format accepts every value of the list", () => {
    for (const { picks } of PIPES) for (const { value } of picks) expect(parseQuantity(String(value), "length").ok).toBe(true);
    const text = (fittings: unknown): string =>
      `sumpwright: 1\nname: x\ntank: { outside: 80 x 40 x 45 cm }\nsump: { outside: 60 x 35 x 40 cm, water: 18 cm }\nreturn: { pump: 1500 L/h, fittings: ${JSON.stringify(fittings)} }\n`;
    for (const { value } of RUNS.picks) expect(loadScenario(text(value), "x").ok, JSON.stringify(value)).toBe(true);
    for (const { value } of EXTRA_LOSSES.picks) expect(loadScenario(text({ "extra loss": value }), "x").ok).toBe(true);
  });
});

describe("the first event", () => {
  const event = (word: string) => ({ do: "insert", path: ["timeline"], index: 0, value: { at: "day 3", do: word } }) as const;
  const runIn = { do: "set", path: ["cycle"], value: { dose: "3 mg/L as NH3" } };

  test("keeps the run-in without animals that the format assumes without events", () => {
    expect(keepingRunIn({ name: "x" }, [event("power cut")])).toEqual([runIn, event("power cut")]);
    const text =
      "sumpwright: 1\nname: x\ntank: { outside: 80 x 40 x 45 cm }\nsump: { outside: 60 x 35 x 40 cm, water: 18 cm }\nreturn: { pump: 1500 L/h, outlet: 3 cm }\n";
    const cut = { ...event("power cut"), value: { at: "day 3", do: "power cut", for: "4 h" } };
    const edited = keepingRunIn({ name: "x" }, [cut]).reduce((now, edit) => editedText(now, [edit]), text);
    const [before, after] = [text, edited].map((each) => {
      const read = loadScenario(each, "x");
      if (!read.ok) throw new Error(read.errors.map(errorText).join("\n"));
      return coupleModels(read.scenario, each).resolved.fishless;
    });
    expect([before, after]).toEqual([true, true]);
  });

  test("leaves files alone that say it, have animals or events, or are dosed by hand", () => {
    for (const data of [{ cycle: "none" }, { stock: [{ name: "fish" }] }, { timeline: [{ at: "day 1", do: "feed" }] }])
      expect(keepingRunIn(data, [event("power cut")])).toEqual([event("power cut")]);
    expect(keepingRunIn({}, [event("dose ammonia")])).toEqual([event("dose ammonia")]);
    expect(keepingRunIn({}, [{ do: "set", path: ["days"], value: 30 }])).toHaveLength(1);
  });
});
