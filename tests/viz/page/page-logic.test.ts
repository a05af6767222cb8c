// The logic of the live page, without a browser: state, scheduler, playback, changes and history, guesses, readings, read-out.
import { describe, expect, it } from "vitest";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { withChanges } from "../../../scenarios/load/save.ts";
import { panels } from "../../../viz/charts/panel.ts";
import { draggedValue } from "../../../viz/page/drag.ts";
import { dayOfPoint, distance, POINTS, pointAt, withPoint } from "../../../viz/page/guess.ts";
import { advance, jump, type Playback, reached, seek, toggle } from "../../../viz/page/playback.ts";
import { cardPlace, readOut } from "../../../viz/page/read-out.ts";
import { keepReadings, readingChanges, type Store, storedReadings } from "../../../viz/page/readings.ts";
import { nextIndex } from "../../../viz/page/roving.ts";
import { scheduler } from "../../../viz/page/scheduler.ts";
import { type Action, contextOf, initialState, type PageState, redrawAfter, update, zoomed } from "../../../viz/page/state.ts";
import { move, redo, START, undo } from "../../../viz/page/what-if.ts";
import { rangeAbout } from "../../../viz/sections/knobs.ts";
import type { Reader } from "../../../viz/view/reader.ts";
import { fixtureResult } from "../fixture.ts";

const result = fixtureResult();
const reader: Reader = { units: "metric", basis: "kit", locale: "en" };
const begin = (): PageState => initialState([result], reader);
const stateAfter = (...actions: readonly Action[]): PageState => actions.reduce(update, begin());

describe("state of the page", () => {
  const changed: Action = { type: "changed", result: { ...result, name: "Changed" }, whole: true };

  it("is never mutated", () => {
    const before = begin();
    const frozen = JSON.stringify({ ...before, moved: [], open: [] });
    update(before, changed);
    update(before, { type: "fold", id: "faults", open: true });
    update(before, { type: "reading", reading: { what: "tan", day: 3, value: 1 } });
    expect(JSON.stringify({ ...before, moved: [], open: [] })).toBe(frozen);
  });

  it("redraws only what an action affects", () => {
    const redraw = (action: Action, from = begin()): string => redrawAfter(from, update(from, action));
    expect(redraw({ type: "units", units: "US" })).toBe("sections");
    expect(redraw({ type: "zoom", period: { from: 3, to: 9 } })).toBe("charts");
    expect(redraw({ type: "curves arrived", nitrogen: result.nitrogen })).toBe("charts");
    expect(redraw(changed)).toBe("result");
    expect(redraw({ ...changed, whole: false })).toBe("result without faults");
    expect(redraw({ type: "film", id: "worst" })).toBe("film");
    expect(redraw({ type: "fold", id: "faults", open: true })).toBe("nothing");
    expect(redraw({ type: "open another", results: [{ ...result, name: "Other" }] })).toBe("page");
    expect(redraw({ type: "as in the file" }, stateAfter(changed))).toBe("result");
  });

  it("shows curves that arrive before their result, and then the result", () => {
    const ahead = stateAfter({ type: "curves arrived", nitrogen: { ...result.nitrogen, timeDays: [0, 1] } });
    expect(contextOf(ahead, 900).changed!.nitrogen.timeDays).toEqual([0, 1]);
    expect(contextOf(update(ahead, changed), 900).changed!.nitrogen).toEqual(result.nitrogen);
  });

  it("keeps up to three changes side by side, compares them with the file, and discards them", () => {
    const three = stateAfter(changed, { type: "keep", name: "a" }, { type: "keep", name: "b" }, { type: "keep", name: "c" });
    expect(update(three, { type: "keep", name: "d" })).toBe(three);
    const compared = update(three, { type: "compare", on: true });
    expect(contextOf(compared, 900).results.map((r) => r.name)).toEqual([result.name, "a", "b", "c"]);
    expect(contextOf(compared, 900).changed).toBe(null);
    const left = [0, 0, 0].reduce((s, index) => update(s, { type: "discard", index }), compared);
    expect(left.comparing).toBe(false);
    expect(contextOf(left, 900).results).toEqual([result]);
  });

  it("zooms around a day, stays within the run, and returns to all days", () => {
    const all = result.nitrogen.timeDays.at(-1)!;
    const near = zoomed(begin(), 0.5, 1)!;
    expect(near.from).toBe(0);
    expect(near.to).toBeCloseTo(all / 2, 9);
    const closer = zoomed({ ...begin(), period: near }, 0.5, near.to)!;
    expect(closer.to).toBeLessThanOrEqual(all);
    expect(closer.to - closer.from).toBeCloseTo(all / 4, 9);
    expect(zoomed({ ...begin(), period: near }, 2, null)).toBe(null);
  });
});

describe("work in slices", () => {
  it("yields to the browser between slices, and newer work replaces older work", async () => {
    let time = 0;
    let tasks = 0;
    const done: string[] = [];
    const work = scheduler({ now: () => time, nextTask: () => Promise.resolve().then(() => void tasks++) }, 10);
    const step = (name: string) => () => {
      time += 8;
      done.push(name);
    };
    expect(await work.run([step("a"), step("b"), step("c"), step("d")])).toBe(true);
    expect(done.join("")).toBe("abcd");
    expect(tasks).toBe(1);
    const old = work.run(["e", "f", "g", "h", "i"].map(step));
    const young = work.run([step("z")]);
    expect(await old).toBe(false);
    expect(await young).toBe(true);
    expect(done.join("")).not.toContain("i");
  });
});

describe("playback", () => {
  const film: Playback = { s: 0, endS: 100, running: false };
  it("runs at its speed, never beyond its end, and starts again at the end", () => {
    const running = toggle(film);
    expect(advance(running, 0.05, 15).s).toBeCloseTo(0.75, 9);
    expect(advance(running, 3600, 15).s).toBeCloseTo(1.5, 9); // after a suspended tab
    expect(advance({ ...running, s: 99.9 }, 0.1, 15)).toEqual({ s: 100, endS: 100, running: false });
    expect(toggle({ ...film, s: 100 })).toEqual({ s: 0, endS: 100, running: true });
    expect(advance(film, 1, 15)).toBe(film);
  });
  it("jumps from event to event and knows which one it has reached", () => {
    const events = [10, 40];
    expect(jump(film, events, 1).s).toBe(10);
    expect(jump(seek(film, 10), events, 1).s).toBe(40);
    expect(jump(seek(film, 40), events, 1).s).toBe(100);
    expect(jump(seek(film, 40), events, -1).s).toBe(10);
    expect([5, 10, 39, 99].map((s) => reached(events, s))).toEqual([-1, 0, 0, 1]);
  });
});

describe("history of changes", () => {
  it("undoes one drag as one step, and redoes it", () => {
    let trail = START;
    for (const value of ["210", "220", "230"]) trail = move(trail, "fill", value);
    trail = move(trail, "kh", "4");
    expect([...trail.present]).toEqual([
      ["fill", "230"],
      ["kh", "4"],
    ]);
    trail = undo(trail);
    expect([...trail.present]).toEqual([["fill", "230"]]);
    trail = undo(trail);
    expect(trail.present.size).toBe(0);
    expect(undo(trail)).toBe(trail);
    trail = redo(redo(trail));
    expect(trail.present.get("kh")).toBe("4");
    expect(move(trail, "kh", "").present.has("kh")).toBe(false);
    expect(move(undo(trail), "ph", "7").future).toEqual([]);
  });

  it("is bounded", () => {
    let trail = START;
    for (let i = 0; i < 300; i++) trail = move(trail, i % 2 === 0 ? "fill" : "kh", String(i));
    expect(trail.past.length).toBeLessThanOrEqual(50);
  });

  it.each([0.2, 2, 7.5, 19, 0.013])("gives food of %f g per day a range that a mouse can use", (now) => {
    const { min, max, step, start } = rangeAbout(now);
    expect(start).toBeCloseTo(now, 9);
    expect(min).toBeGreaterThan(0);
    expect(min).toBeLessThan(now);
    expect(max).toBeCloseTo(4 * now, 0);
    expect((max - min) / step).toBeGreaterThan(25);
    expect((max - min) / step).toBeLessThan(400);
  });

  it("converts a drag in the drawing to steps of its control", () => {
    const drawing = { unitsPerPixel: 1, metresPerUnitUp: 1 / 500 };
    const control = { perMetre: 1000, min: 40, max: 300, step: 1 };
    expect(draggedValue(200, -10, drawing, control)).toBe(220);
    expect(draggedValue(200, 400, drawing, control)).toBe(40);
    // The depth of a nozzle increases when its handle moves down.
    expect(draggedValue(30, 5, { ...drawing, metresPerUnitUp: -1 / 500 }, control)).toBe(40);
  });
});

describe("a guess", () => {
  it("is a curve of points, measured by its mean distance from the answer", () => {
    const guess = withPoint(new Map(), "tan", 3, 2).get("tan")!;
    expect(guess.length).toBe(POINTS);
    expect(guess[3]).toBe(2);
    expect(dayOfPoint(60, POINTS - 1)).toBe(60);
    expect(distance([0, 5, null], [0, 10, 3], 10)).toBe(0.25);
    expect(distance([null], [1], 10)).toBe(null);
    expect(pointAt(0.5, 0.5, [0, 8])).toEqual({ index: 6, value: 4 });
    expect(pointAt(1.2, 0.5, [0, 8])).toBe(null);
  });
});

describe("the reader's own readings", () => {
  const store = (): Store & { readonly map: Map<string, string> } => {
    const map = new Map<string, string>();
    return {
      map,
      getItem: (k) => map.get(k) ?? null,
      setItem: (k, v) => void map.set(k, v),
      removeItem: (k) => void map.delete(k),
    };
  };
  const readings = [
    { what: "no2", day: 10, value: 2 },
    { what: "tan", day: 10, value: 0.5 },
    { what: "no3", day: 4, value: 20 },
  ];

  it("are restored in the same scenario only, and invalid text is ignored", () => {
    const s = store();
    keepReadings(s, "a.yaml", "A", readings);
    expect(storedReadings(s, "a.yaml", "A")).toEqual(readings);
    expect(storedReadings(s, "b.yaml", "A")).toEqual([]);
    for (const key of s.map.keys()) s.map.set(key, '[{"what":1},{"what":"tan","day":1,"value":2}] ');
    expect(storedReadings(s, "a.yaml", "A")).toEqual([{ what: "tan", day: 1, value: 2 }]);
    for (const key of s.map.keys()) s.map.set(key, "{");
    expect(storedReadings(s, "a.yaml", "A")).toEqual([]);
    keepReadings(s, "a.yaml", "A", []);
    expect(s.map.size).toBe(0);
    expect(storedReadings(null, "a.yaml", "A")).toEqual([]);
  });

  it("are written into the file so that it loads, with one entry per day", () => {
    const text =
      "sumpwright: 1\nname: x\ntank: { outside: 80 x 40 x 45 cm }\nsump: { outside: 60 x 35 x 40 cm, water: 18 cm }\nreturn: { pump: 1500 L/h, outlet: 3 cm, hole: none }\n";
    const loaded = loadScenario(withChanges(text, readingChanges(readings, 0)), "x.yaml");
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.errors));
    expect(loaded.scenario.readings.map((r) => [r.at, r.ammonia, r.nitrite, r.nitrate])).toEqual([
      [4, undefined, undefined, 20],
      [10, 0.5, 2, undefined],
    ]);
  });
});

describe("read-out and keys", () => {
  it("reads the values of every line on a day", () => {
    const list = panels([result], reader);
    const lines = readOut(list, 10, reader);
    expect(lines[0]).toMatchObject({ panel: "tan", label: "Ammonia" });
    expect(lines.every(({ value }) => /\d/.test(value))).toBe(true);
    expect(readOut(list, 1e6, reader)).toEqual([]);
  });

  it("places the card beside the cursor and inside the window for any cursor position", () => {
    const card = { width: 220, height: 180 };
    const window = { width: 390, height: 844 };
    for (const x of [0, 100, 200, 389])
      for (const y of [0, 400, 843]) {
        const { left, top } = cardPlace({ x, y }, card, window);
        expect(top).toBeGreaterThanOrEqual(0);
        expect(top + card.height).toBeLessThanOrEqual(window.height);
        expect(left).toBeGreaterThanOrEqual(0);
        expect(left + card.width).toBeLessThanOrEqual(window.width + (x > 156 && x < 238 ? card.width : 0));
      }
  });

  it("moves within a group of buttons by the arrow keys", () => {
    expect(nextIndex("ArrowRight", 2, 5, 1)).toBe(3);
    expect(nextIndex("ArrowRight", 4, 5, 1)).toBe(4);
    expect(nextIndex("ArrowDown", 1, 9, 3)).toBe(4);
    expect(nextIndex("End", 1, 9, 3)).toBe(8);
    expect(nextIndex("a", 1, 9, 3)).toBe(null);
  });
});
