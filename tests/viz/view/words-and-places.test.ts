// Terms of the glossary, labels of the drawing, differences between files, names of compared scenarios.
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { placeLabels, textArea } from "../../../viz/cutaway/placement.ts";
import { blocksOf, inputDifferences } from "../../../viz/sections/input-differences.ts";
import { entryFor, GLOSSARY, termsIn } from "../../../viz/view/glossary.ts";
import { toHtml } from "../../../viz/view/markup.ts";
import { shortLabels } from "../../../viz/view/names.ts";
import { bareBelowRim, belowRim, duration, type Reader } from "../../../viz/view/reader.ts";
import { termMarker } from "../../../viz/view/terms.ts";

const metric: Reader = { units: "metric", basis: "kit", locale: "en" };
const us: Reader = { ...metric, units: "US" };

describe("the glossary", () => {
  it("has each term and each spelling once, with an address of its own", () => {
    const forms = GLOSSARY.flatMap((e) => [e.term, ...e.forms].map((f) => f.toLowerCase()));
    expect(new Set(forms).size).toBe(forms.length);
    expect(new Set(GLOSSARY.map((e) => e.id)).size).toBe(GLOSSARY.length);
    for (const e of GLOSSARY) expect(e.text).toMatch(/^[A-Z].{20,260}\.$/s);
    const terms = GLOSSARY.map((e) => e.term.toLowerCase());
    expect(terms).toEqual([...terms].sort((a, b) => a.localeCompare(b, "en")));
  });

  it("finds whole words only, the longest form first, and keeps every letter of the text", () => {
    const text = "A siphon-break hole under the weirs; weirdly, un-ionised ammonia is not there.";
    const pieces = termsIn(text);
    expect(pieces.flatMap((p) => (typeof p === "string" ? [] : [p.entry.term]))).toEqual([
      "Break hole",
      "Weir",
      "Un-ionised ammonia",
    ]);
    expect(pieces.map((p) => (typeof p === "string" ? p : p.words)).join("")).toBe(text);
    expect(entryFor("MAX FILL")?.term).toBe("Fill mark");
  });

  it("marks the first occurrence of a term, up to the requested number of terms", () => {
    const mark = termMarker(2);
    const html = toHtml([mark("The weir and the weir."), mark("A baffle and a check valve.")]);
    expect(html.match(/class="term"/g)).toHaveLength(2);
    expect(html).toContain('href="#term-baffle"');
  });
});

describe("labels of the drawing", () => {
  const sheet = { x0: 0, x1: 400, y0: 0, y1: 300 };
  it("take the next free place, and are omitted where they fit nowhere", () => {
    const at = [200, 150] as const;
    const offsets = [
      [10, 0],
      [10, 40],
    ] as const;
    const [first, second, third] = placeLabels(
      [1, 2, 3].map((n) => ({ text: `name ${n}`, at, offsets, optional: true })),
      12,
      sheet,
      [],
    );
    expect(first!.offset).toEqual([10, 0]);
    expect(second!.offset).toEqual([10, 40]);
    expect(third).toBeUndefined();
  });
  it("cover the area of their letters", () => {
    const area = textArea("four", 10, 100, 50, "end");
    expect(area.x1).toBe(100);
    expect(area.x1 - area.x0).toBeGreaterThan(20);
  });
});

describe("levels and times in words", () => {
  it("never print a level above the rim as a negative length", () => {
    expect(belowRim(us, -0.0016)).toBe("1/16 in over the rim");
    expect(bareBelowRim(metric, -0.002)).toBe("2 over");
    expect(belowRim(metric, 0.0002)).toBe("at the rim");
    expect(belowRim(metric, 0.045, true)).toBe("45 mm (1 3/4 in)");
  });
  it("print minutes with seconds, as a watch does", () => {
    expect([45, 132, 540, 1200, 14_400, 15_300].map((s) => duration(metric, s))).toEqual([
      "45 s",
      "2 min 12 s",
      "9 min",
      "20 min",
      "4 h",
      "4 h 15 min",
    ]);
  });
});

describe("compared scenarios", () => {
  it("have different labels, made of the words that differ", () => {
    const labels = shortLabels([
      "Tank, five fish added",
      "Tank, twenty fish added in one day",
      "Tank, twenty fish added in four lots",
    ]);
    expect(labels).toEqual(["five fish added", "… one day", "… four lots"]);
    expect(new Set(labels).size).toBe(3);
  });

  it("show the blocks in which their files differ, without comments and names", () => {
    const a = "sumpwright: 1\nname: A # x\nstock:\n  - { count: 5 } # five\ndays: 60\n";
    const b = "sumpwright: 1\nname: B\nstock:\n  - { count: 20 }\n\n# and so on\ndays: 60\nplants: few\n";
    expect(blocksOf(a).get("stock")).toBe("- { count: 5 }");
    expect(inputDifferences([a, b])).toEqual([
      { key: "stock", values: ["- { count: 5 }", "- { count: 20 }"] },
      { key: "plants", values: [null, "few"] },
    ]);
  });

  it("show of a block only the entries in which they differ", () => {
    const [a, b] = [
      ["100 x 40 x 50 cm", "5 mm"],
      ["120 x 50 x 55 cm", "6 mm"],
    ].map(
      ([size, hole]) => `tank: { outside: ${size}, water line: 40 mm, name: "a, b", hole: { bore: ${hole}, depth: 12 mm } }\n`,
    );
    expect(inputDifferences([a!, b!])).toEqual([
      {
        key: "tank",
        values: [
          "outside: 100 x 40 x 50 cm\nhole: { bore: 5 mm, depth: 12 mm }",
          "outside: 120 x 50 x 55 cm\nhole: { bore: 6 mm, depth: 12 mm }",
        ],
      },
    ]);
  });

  it("among the shipped plans differ only in their animals", () => {
    const folder = new URL("../../../scenarios/shipped/", import.meta.url);
    const sources = readdirSync(folder)
      .filter((name) => name.startsWith("community-"))
      .map((name) => readFileSync(new URL(name, folder), "utf8"));
    expect(inputDifferences(sources).map((row) => row.key)).toEqual(["stock"]);
  });
});
