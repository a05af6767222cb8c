// Numbers and words of the page, without a browser.
import { describe, expect, it } from "vitest";
import { panels, range, speciesOf, valueAt, within } from "../../../viz/charts/panel.ts";
import { dayTicks } from "../../../viz/charts/plot.ts";
import { railRows } from "../../../viz/charts/rail.ts";
import { shapeOf, summarise } from "../../../viz/charts/words.ts";
import { renderIndex, renderPage } from "../../../viz/report.ts";
import { differences } from "../../../viz/sections/compare.ts";
import { kitStep } from "../../../viz/sections/curves.ts";
import { changeOf, differencesInWords, knobs } from "../../../viz/sections/knobs.ts";
import { calendarFile } from "../../../viz/sheets/calendar-file.ts";
import { duringCut, oneLine } from "../../../viz/sheets/card.ts";
import { steps } from "../../../viz/sheets/commissioning.ts";
import { PIECE_MM, stripMarks, stripPieces } from "../../../viz/sheets/strip.ts";
import { h, toHtml } from "../../../viz/view/markup.ts";
import { comparedTitle, shortNames } from "../../../viz/view/names.ts";
import { bareLength, figure, kitCeiling, length, nitrogenScale, number, type Reader, volume } from "../../../viz/view/reader.ts";
import { fixtureResult } from "../fixture.ts";

const result = fixtureResult();
const metric: Reader = { units: "metric", basis: "kit", locale: "en" };
const us: Reader = { ...metric, units: "US" };

describe("markup", () => {
  it("escapes all text and attributes, and omits attributes that are not set", () => {
    expect(toHtml(h("p", { title: `"<&>`, hidden: false, open: true }, `<b>&`, null, ["x", 1]))).toBe(
      `<p title="&quot;&lt;&amp;&gt;" open>&lt;b&gt;&amp;x1</p>`,
    );
  });
});

describe("numbers for the reader", () => {
  it("prints lengths as on a ruler, in the reader's system first", () => {
    expect(length(metric, 0.023, true)).toBe("23 mm (7/8 in)");
    expect(length(us, 0.0254 * 2.5, true)).toBe("2 1/2 in (64 mm)");
    expect(bareLength(us, 0.0254 * 2.5)).toBe("2 1/2″");
    expect(volume(metric, 0.024, true)).toBe("24 L (6.3 US gal)");
  });

  it("uses the number format of the reader's language and never prints minus zero", () => {
    expect(number({ ...metric, locale: "de" }, 12345.5, 1)).toBe("12.345,5");
    expect(number(metric, -0.001, 1)).toBe("0.0");
    expect(figure(metric, Number.NaN)).toBe("–");
    expect(figure(metric, 0)).toBe("0");
  });

  // Ratios of molar masses (IUPAC 2021): NH3/N 1.2159, NO2/N 3.2845, NO3/N 4.4268.
  it.each([
    ["tan", "kit", 1.2159],
    ["no2", "kit", 3.2845],
    ["no3", "ion", 4.4268],
    ["no3", "N", 1],
  ] as const)("scales %s on the basis %s by %f", (what, basis, factor) => {
    expect(nitrogenScale({ ...metric, basis }, result.kit, what).factor).toBeCloseTo(factor, 3);
  });

  it("converts the highest reading of the kit to the basis", () => {
    expect(kitCeiling(metric, result.kit, "no2")).toBeCloseTo(5, 9);
    expect(kitCeiling({ ...metric, basis: "N" }, result.kit, "no2")).toBeCloseTo(5 / 3.2845, 3);
  });

  it("notes when the basis of a kit is unknown", () => {
    const kit = { ...result.kit, nitrite: "unknown" };
    expect(nitrogenScale(metric, kit, "no2")).toMatchObject({ as: "NO2" });
    expect(nitrogenScale(metric, kit, "no2").note).toContain("does not say");
  });
});

describe("charts as data", () => {
  const list = panels([result], metric);

  it("have nitrogen first, with one panel per species, in kit units", () => {
    expect(list.slice(0, 3).map((p) => [p.id, p.unit])).toEqual([
      ["tan", "mg/L as NH3"],
      ["no2", "mg/L as NO2"],
      ["no3", "mg/L as NO3"],
    ]);
    expect(speciesOf("display.no2")).toBe("no2");
    expect(speciesOf("NH3-N")).toBe("tan");
    expect(speciesOf("pH")).toBe(null);
  });

  it("show alkalinity in degrees of hardness: 1 meq/L is 2.8 dKH", () => {
    const alk = list.find((p) => p.id === "alkalinity")!;
    const raw = result.nitrogen.series.find((s) => s.panel === "alkalinity")!.values[0]!;
    expect(alk.lines[0]!.values[0]! / raw).toBeCloseTo(2.804, 2);
  });

  it("have axes that contain all values", () => {
    for (const p of list) {
      const [low, high] = range(p);
      for (const line of p.lines)
        for (const v of line.values)
          if (v !== null) {
            expect(v).toBeGreaterThanOrEqual(low);
            expect(v).toBeLessThanOrEqual(high);
          }
    }
  });

  it("interpolate between samples and have no value outside", () => {
    const line = { id: "x", label: "x", scenario: 0, days: [0, 2, 4], values: [0, 10, null] };
    expect(valueAt(line, 1)).toBe(5);
    expect(valueAt(line, 5)).toBe(null);
    expect(valueAt(line, 2)).toBe(10);
  });

  it("are described in words, with peak and day", () => {
    const nitrite = list[1]!;
    const shape = shapeOf(nitrite.lines[0]!)!;
    const words = summarise(nitrite, metric);
    expect(words).toContain(`highest at ${figure(metric, shape.high)} on day ${Math.round(shape.highDay)}`);
    expect(words).toContain("off the chart of the kit");
  });

  it("have ticks in days, weeks or months, never more than fit", () => {
    for (const days of [1, 5, 30, 70, 365, 3660]) {
      const ticks = dayTicks({ from: 0, to: days }, 900);
      expect(ticks.length).toBeGreaterThanOrEqual(2);
      expect(ticks.length).toBeLessThanOrEqual(16);
    }
  });

  it("group events by kind, in the order of their first day", () => {
    expect(railRows(result.nitrogen.marks).map((r) => r.kind)).toEqual(["dose", "ready", "water change", "stock"]);
  });

  it("give a reading the width of the next kit step", () => {
    expect(kitStep(result.kit.steps.ammonia, 0.25)).toBe(0.25);
    expect(kitStep(result.kit.steps.ammonia, 2)).toBe(2);
    expect(kitStep(result.kit.steps.nitrate, 40)).toBe(40);
  });

  it("crop a panel to a period, with its values at both ends", () => {
    const nitrite = list[1]!;
    const cut = within(nitrite, { from: 10.5, to: 20.25 });
    expect(cut.lines[0]!.days[0]).toBe(10.5);
    expect(cut.lines[0]!.days.at(-1)).toBe(20.25);
    expect(cut.lines[0]!.values[0]).toBe(valueAt(nitrite.lines[0]!, 10.5));
    expect(within(nitrite, { from: 0, to: 1e4 })).toEqual(nitrite);
    expect(dayTicks({ from: 10.5, to: 20.25 }, 900)).toEqual([11, 12, 13, 14, 15, 16, 17, 18, 19, 20]);
  });

  it("omit a bypass flow that nobody could see", () => {
    const spill = (most: number) => ({
      ...result,
      nitrogen: {
        ...result.nitrogen,
        series: [
          {
            id: "pad.spill",
            label: "past the pad",
            unit: "%",
            panel: "spill" as const,
            place: "pad",
            values: result.nitrogen.timeDays.map(() => most),
          },
        ],
      },
    });
    expect(panels([spill(0.002)], metric)).toEqual([]);
    expect(panels([spill(40)], metric).map((p) => p.id)).toEqual(["spill"]);
  });
});

describe("verdicts and differences", () => {
  it("compare scenarios by peaks and findings, relative to the first", () => {
    const later = fixtureResult("later", 9);
    const rows = differences([result, later], metric);
    const day = rows.find((r) => r.label === "Day of highest nitrite")!;
    expect(day.values[1]! - day.values[0]!).toBeCloseTo(9, 0);
  });

  it("describe a change only where a sentence changed", () => {
    const [first, ...rest] = result.findings;
    const after = { ...result, findings: [{ ...first!, word: "HOLDS", text: "It stays in." }, ...rest.slice(0, -1)] };
    expect(differencesInWords(result, after, metric, false)).toEqual([
      { what: "FLOODS becomes HOLDS", now: "It stays in.", before: first!.text },
    ]);
    expect(differencesInWords(result, after, metric, true)).toHaveLength(2);
    expect(differencesInWords(result, result, metric, true)).toEqual([]);
  });
});

describe("try it", () => {
  it("writes changes in the wording and places of the file", () => {
    const list = knobs(result, metric);
    const source =
      "return:\n  pump: 1000 L/h\n  nozzles:\n    - depth: 30 mm\ntower:\n  - depth: 300 mm\nfood: { amount: 2 g/day }\n";
    const change = (id: string, value: string) =>
      changeOf(knobs({ ...result, source }, metric).find((k) => k.id === id)!, value, source);
    expect(change("nozzle", "45")).toEqual({ path: ["return", "nozzles", 0, "depth"], value: "45 mm" });
    expect(change("media", "310")).toEqual({ path: ["tower", 0, "depth"], value: "310 mm" });
    expect(change("food", "3")).toEqual({ path: ["food", "amount"], value: "3 g/day" });
    expect(changeOf(list.find((k) => k.id === "ph")!, "7.2", result.source)).toEqual({ path: ["tap", "ph"], value: 7.2 });
    expect(list.find((k) => k.id === "fill")).toMatchObject({ start: 220, unit: "mm" });
  });
});

describe("sheets", () => {
  it("place the marks of the strip at their true distance from the rim, in pieces that fit the paper", () => {
    expect(stripMarks(result).map((m) => m.word)).toEqual(["OFF LEVEL", "MAX FILL", "MIN"]);
    const pieces = stripPieces(result);
    for (const p of pieces) expect(p.toMm - p.fromMm).toBeLessThanOrEqual(PIECE_MM);
    const lowest = (result.hydraulics.marks.sumpRimM - result.hydraulics.marks.minRunningM!) * 1000;
    expect(pieces.at(-1)!.toMm).toBeGreaterThan(lowest);
    for (let i = 1; i < pieces.length; i++) expect(pieces[i]!.fromMm).toBe(pieces[i - 1]!.toMm);
  });

  it("fill the commissioning sheet with predictions that a ruler can check", () => {
    const lines = steps(result, metric).flatMap((s) => s.lines);
    expect(lines.find((l) => /at rest/.test(l.what))!.predicted).toBe("123 mm (4 13/16 in)");
    expect(lines.filter((l) => /after the plug is pulled/.test(l.what))).toHaveLength(4);
    for (const l of lines) expect(l.predicted).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("derive the power-cut card from the clocks of this tank", () => {
    expect(duringCut(result, metric).join(" ")).toContain("Count on 4 hours before the animals need air; it may be 6 hours");
    expect(oneLine(result, metric)).toContain(
      "the worst is snail or salt in the siphon-break hole together with sump filled to 330 mm, with 24 L (6.3 US gal) on the floor",
    );
  });

  it("write whole days without a time zone into the calendar", () => {
    const text = calendarFile(result, "2027-01-30");
    expect(text).toContain("DTSTART;VALUE=DATE:20270130");
    expect(text).toContain("DTSTART;VALUE=DATE:20270202"); // day 3
    expect(() => calendarFile(result, "no date")).toThrow(RangeError);
  });
});

describe("the file", () => {
  const html = renderPage([result], "console.log('</script>')");

  it("allows only its own script and style, by hash, and no network", () => {
    const policy = /Content-Security-Policy" content="([^"]+)"/.exec(html)![1]!.replaceAll("&#39;", "'");
    expect(policy).toContain("default-src 'none'");
    expect(policy).toMatch(/script-src 'sha256-[\w+/=]+'/);
    expect(policy).toMatch(/style-src 'sha256-[\w+/=]+'/);
    expect(policy).not.toContain("unsafe");
    expect(html).not.toMatch(/\b(?:src|href)="https?:/);
    expect(html).not.toMatch(/ style="/);
  });

  it("names the firm with its contact and logo at the head of the page, and escapes them", () => {
    const firm = { name: "Brook <Street>", contact: "01632 960123", logo: "data:image/png;base64,AA==" };
    const signed = renderPage([{ ...result, firm }], "");
    expect(signed.match(/Brook &lt;Street&gt;<\/span><span class="firm-contact">01632 960123/g)).toHaveLength(1);
    expect(signed.match(/<img src="data:image\/png;base64,AA==" alt="" class="firm-logo">/g)).toHaveLength(1);
    expect(html).not.toContain('class="firm"');
  });

  it("has the same bytes for the same result", () => {
    expect(renderPage([result], "console.log('</script>')")).toBe(html);
  });

  it("contains no NaN, infinity or undefined", () => {
    const text = html.replace(/<script[\s\S]*?<\/script>/g, "").replace(/<style[\s\S]*?<\/style>/g, "");
    expect(text).not.toMatch(/NaN|undefined|Infinity|\[object/);
  });

  it("needs at least one result, and can list several", () => {
    expect(() => renderPage([], "")).toThrow();
    const index = renderIndex([{ href: "a.html", result }]);
    expect(index).toContain('href="a.html"');
    expect(index).toContain("24\u00a0L (6.3\u00a0US\u00a0gal) go on the floor");
  });
});

describe("names of compared scenarios", () => {
  it("mention the shared words once, and are never empty", () => {
    const names = ["Tank, twenty fish added in one day", "Tank, twenty fish added in four lots"];
    expect(shortNames(names)).toEqual({ shared: "Tank, twenty fish added in", short: ["one day", "four lots"] });
    expect(comparedTitle(names)).toBe("Tank, twenty fish added in: one day or four lots");
    expect(shortNames(["A B", "A B C"])).toEqual({ shared: "A", short: ["B", "B C"] });
    expect(shortNames(["x"])).toEqual({ shared: "", short: ["x"] });
    expect(comparedTitle(["One", "Two"])).toBe("Compared: One; Two");
  });
});
