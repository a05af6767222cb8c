// The power-cut card for the cabinet door, and a summary in one line.
import type { OutageClock, RunResult } from "../../scenarios/result/result.ts";
import { type Child, h } from "../view/markup.ts";
import { hours, length, number, type Reader, volume, withLengths } from "../view/reader.ts";

const find = (clocks: readonly OutageClock[], what: RegExp): OutageClock | undefined =>
  clocks.find((c) => what.test(`${c.id} ${c.name}`));

/** The steps during an outage, in order. Order of the steps: common practice, no published source. */
export function duringCut(r: RunResult, reader: Reader): readonly string[] {
  const fish = find(r.outage, /fish|oxygen|air/i);
  const dry = find(r.outage, /dry/i);
  const anoxic = find(r.outage, /^media-anoxic/);
  const closed = r.rig.closedFilters.map((filter) => filter.id);
  const cold = find(r.outage, /cold|cool|temperature|heat/i);
  const lines: string[] = ["Do not feed. Do not stir up dirt."];
  const first = fish?.amberH ?? fish?.redH;
  lines.push(
    first
      ? `Count on ${hours(reader, first[0])} before the animals need air${first[1] > first[0] * 1.1 ? `; it may be ${first[1] >= 120 ? "much longer" : hours(reader, first[1])}` : ""}. Best is an air pump on a battery. Without one, scoop up water with a jug and pour it back from a height.`
      : "In this simulation the animals do not run short of air. Watch them all the same: gasping at the surface means they do.",
  );
  if (dry?.amberH)
    lines.push(`Keep the tower shut. After ${hours(reader, dry.amberH[0])}, mist the media every hour with tank water.`);
  if (anoxic?.amberH)
    lines.push(
      `Media that lie under still water may turn foul after ${hours(reader, anoxic.amberH[0])}: stir them or lift them out before then.`,
    );
  if (closed.length > 0 && r.aftermath.doNotRestart.length > 0)
    lines.push(`Pull the plug of ${closed.join(" and ")} now, so that stale water does not start by itself.`);
  if (cold?.amberH)
    lines.push(
      `The tank may get too cold or too warm after ${hours(reader, cold.amberH[0])}. Against cold, wrap the sides in a blanket and leave the top open for air. No heater on a small battery.`,
    );
  if (r.battery) {
    const alone = r.battery.alone.map((load) => `${load.name} ${hours(reader, load.hours)}`).join(", ");
    lines.push(
      `Your battery of ${number(reader, r.battery.capacityWh)} Wh can run one of these alone: ${alone}. ${r.battery.words.join(" ")}`,
    );
  }
  lines.push("Generators and anything with a flame stay outdoors, well away from doors and windows.");
  return lines;
}

/** The checks when the power returns. */
export function afterCut(r: RunResult, reader: Reader): readonly string[] {
  const m = r.hydraulics.marks;
  const first = r.aftermath.checks.length > 0 ? r.aftermath.checks : ["Check that water flows: see it move over the weir."];
  return [
    ...first,
    `Check the levels: the return chamber ${length(reader, m.sumpRimM - m.runningM, true)} below its rim, the tank at its RUN mark.`,
    `Test ammonia and nitrite on days ${r.aftermath.testDays.join(", ")}. Feed little until both read zero.`,
    ...r.aftermath.doNotRestart,
  ];
}

export function powerCard(r: RunResult, reader: Reader): Child {
  const plain = r.hydraulics.stories[0];
  const line = !plain
    ? null
    : plain.verdict === "FLOODS"
      ? `The sump does NOT hold a power cut: expect ${volume(reader, plain.floorM3, true)} on the floor.`
      : `In the simulation all the water stays in, with ${length(reader, plain.marginM, true)} to spare. The sump should stop rising ${length(reader, r.hydraulics.marks.sumpRimM - r.hydraulics.marks.offLevelM, true)} below its rim within minutes. If it still rises after 10 minutes, lift the return pipe out of the water.`;
  return [
    h("p", { class: "card-line" }, line),
    h("div", { class: "columns" }, [
      h(
        "div",
        {},
        h("h4", {}, "While it is out"),
        h(
          "ol",
          {},
          duringCut(r, reader).map((t) => h("li", {}, t)),
        ),
      ),
      h(
        "div",
        {},
        h("h4", {}, "When it is back"),
        h(
          "ol",
          {},
          afterCut(r, reader).map((t) => h("li", {}, t)),
        ),
      ),
    ]),
    h(
      "p",
      { class: "note" },
      "Unplug everything before you put your hands in. If a socket may be wet, switch it off at the fuse board, not at the plug.",
    ),
  ];
}

/** One line for a landlord, an insurer or the family: how much water, where, with which faults. */
export function oneLine(r: RunResult, reader: Reader): string {
  const { stories, matrix, marks, load } = r.hydraulics;
  const plain = stories[0];
  const holds = matrix.filter((m) => m.verdict !== "FLOODS").length;
  const worst = matrix.reduce<(typeof matrix)[number] | null>((w, m) => (m.floorM3 > (w?.floorM3 ?? 0) ? m : w), null);
  const name = (id: string): string =>
    withLengths(reader, (r.hydraulics.faults.find((f) => f.id === id)?.name ?? id).toLowerCase());
  const parts = [
    plain
      ? plain.verdict === "FLOODS"
        ? `In a plain power cut ${volume(reader, plain.floorM3, true)} would end up on the floor`
        : `In a plain power cut all the water stays in, with ${length(reader, plain.marginM, true)} to spare`
      : "",
    matrix.length > 0
      ? `of ${matrix.length} faults and pairs of faults tried in the simulation, ${holds} leave the floor dry`
      : "",
    worst
      ? `the worst is ${name(worst.a)}${worst.a === worst.b ? "" : ` together with ${name(worst.b)}`}, with ${volume(reader, worst.floorM3, true)} on the floor`
      : "",
    marks.maxRunningUntrustedM !== null
      ? `the sump is marked MAX FILL at ${length(reader, marks.sumpRimM - marks.maxRunningUntrustedM, true)} below its rim`
      : "",
    `filled, the system weighs ${number(reader, load.totalKg)} kg (${number(reader, load.totalKg / 0.45359237)} lb)`,
  ];
  return `${parts.filter((p) => p !== "").join("; ")}. Simulated, not certified; measured values and signatures are on the commissioning sheet.`;
}
