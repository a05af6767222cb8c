// Commissioning sheet: predictions, space for measurements, signature. Steps of the pull-the-plug test: common
// practice, no published source.
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { at, levelMarks, ruledVessels, stageTimes } from "../cutaway/marks.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { belowRim, duration, flow, length, type Reader, volume } from "../view/reader.ts";

interface Line {
  readonly what: string;
  readonly predicted: string;
}

interface Step {
  readonly do: string;
  readonly lines: readonly Line[];
}

/** Sump level at fixed times after the plug is pulled, and its final value. */
function plugLines(story: OutageTrace, reader: Reader): readonly Line[] {
  const sump = ruledVessels(story).find((v) => v.kind === "chamber");
  const { cutS, restartS, endS } = stageTimes(story);
  if (!sump || cutS === null || sump.rimZ === null) return [];
  const rest = restartS ?? endS;
  return [30, 120, 300, 600].map((s) => ({
    what: `Return chamber ${duration(reader, s)} after the plug is pulled, below the rim`,
    predicted: length(reader, sump.rimZ! - at(story.timeS, sump.levelZ, Math.min(rest, cutS + s)), true),
  }));
}

export function steps(r: RunResult, reader: Reader): readonly Step[] {
  const plain = r.hydraulics.stories[0];
  const { marks } = r.hydraulics;
  const first: Step[] = [
    {
      do: "Use fresh water only. Put dry paper under every joint. Fill by quarters and wait each time: 24 hours in all, 48 for a large system. Tighten bulkheads by hand.",
      lines: [{ what: "Leaks found", predicted: "none" }],
    },
    {
      do: "Start the pump and let it run for 30 minutes. Measure the flow with a bucket and a watch.",
      lines: [
        { what: "Flow through the pump", predicted: flow(reader, r.hydraulics.running.pumpFlowM3PerS, true) },
        ...(plain ? levelLines(plain, reader, "display", "running", ({ runningZ }) => runningZ) : []),
        { what: "Return chamber, running, below the rim", predicted: length(reader, marks.sumpRimM - marks.runningM, true) },
      ],
    },
  ];
  if (plain?.verdict === "FLOODS")
    return [
      ...first,
      {
        do: `Do not pull the plug yet: ${volume(reader, plain.floorM3, true)} would run onto the floor. Cure that first, then start this sheet again.`,
        lines: [],
      },
    ];
  return [
    ...first,
    {
      do: "With dry hands on a dry floor, towels and a drain hose within reach, pull the plug itself (not a controller) and start a watch.",
      lines: plain ? plugLines(plain, reader) : [],
    },
    {
      do: `Compare. A difference within ${length(reader, 0.005, true)} is good; up to ${length(reader, 0.015, true)}, find out why; above that, stop until you know why.`,
      lines: [
        { what: "Return chamber at rest, below the rim", predicted: length(reader, marks.sumpRimM - marks.offLevelM, true) },
      ],
    },
    {
      do: "Start the pump again: three times with a drilled overflow, ten times with a siphon overflow.",
      lines: plain
        ? [
            ...levelLines(plain, reader, "chamber", "lowest", ({ lowZ }) => lowZ),
            ...levelLines(plain, reader, "display", "highest", ({ peakZ }) => peakZ),
          ]
        : [],
    },
    ...untrustingSteps(r, reader),
    ...ownParts(r, reader),
    blockedDrainStep(r, reader),
    ...topOffStep(r, reader),
    {
      do: "Stick on the marks. Test again twice a year, after any change to the plumbing, and before holidays.",
      lines:
        marks.maxRunningUntrustedM === null
          ? []
          : [{ what: "MAX FILL, below the rim", predicted: length(reader, marks.sumpRimM - marks.maxRunningUntrustedM, true) }],
    },
  ];
}

type Marked = ReturnType<typeof levelMarks>;

/** A level of the first vessel of a kind, below its rim. */
function levelLines(
  story: OutageTrace,
  reader: Reader,
  kind: "display" | "chamber",
  when: string,
  of: (marked: Marked) => number | null,
): Line[] {
  const vessel = ruledVessels(story).find((v) => v.kind === kind);
  if (!vessel) return [];
  const z = of(levelMarks(story, vessel));
  const name = kind === "display" ? vessel.name : "Return chamber";
  const predicted = vessel.rimZ === null || z === null ? "–" : belowRim(reader, vessel.rimZ - z, true);
  return [{ what: `${name.charAt(0).toUpperCase()}${name.slice(1)}, ${when}, below the rim`, predicted }];
}

/** The fault table's answer to one fault; null where the table was not worked out or the fault cannot happen. */
const faultAlone = ({ hydraulics }: RunResult, id: string): RunResult["hydraulics"]["matrix"][number] | null =>
  hydraulics.matrix.find(({ a, b }) => a === id && b === id) ?? null;

/** A fault brought about by hand, only where the prediction says that the floor stays dry. */
function trial(r: RunResult, reader: Reader, id: string, test: string, instead: string, what: string): Step[] {
  const cell = faultAlone(r, id);
  if (!cell) return [];
  if (cell.verdict === "FLOODS")
    return [
      { do: `Do not ${test} as a test: ${volume(reader, cell.floorM3, true)} would run onto the floor. ${instead}`, lines: [] },
    ];
  return [
    {
      do: `${test.charAt(0).toUpperCase()}${test.slice(1)}.`,
      lines: [
        {
          what,
          predicted: Number.isFinite(cell.marginM) ? `${length(reader, cell.marginM, true)} to spare` : "no water over a rim",
        },
      ],
    },
  ];
}

const LOWER_FIRST = "First lower the running level to MAX FILL, then run this sheet again.";

/** Without what may fail: the siphon-break hole and the check valve. */
const untrustingSteps = (r: RunResult, reader: Reader): Step[] => [
  ...trial(
    r,
    reader,
    "break hole blocked",
    "pull the plug with the siphon-break hole taped shut",
    LOWER_FIRST,
    "With the hole taped shut",
  ),
  ...trial(
    r,
    reader,
    "check valve leaks",
    "pull the plug with the check valve held open or taken out",
    LOWER_FIRST,
    "Without the check valve",
  ),
];

/** Several pumps, each alone; and a sock that runs over. */
const ownParts = (r: RunResult, reader: Reader): Step[] => [
  ...trial(
    r,
    reader,
    "main pump stands",
    "unplug the main return pump alone, for ten minutes, while the other runs on",
    "First give its outlet a siphon-break hole at the water line.",
    "With the main pump standing",
  ),
  ...trial(
    r,
    reader,
    "other pump stands",
    "unplug the other return pump alone, for ten minutes, while the main one runs on",
    "First give its outlet a siphon-break hole at the water line.",
    "With the other pump standing",
  ),
  ...trial(
    r,
    reader,
    "sock blinded",
    "wrap the filter sock in film so that it runs over its rim, then pull the plug",
    "First hang it where it runs over into the sump.",
    "With a clogged sock",
  ),
];

const topOffStep = (r: RunResult, reader: Reader): Step[] =>
  r.rig.topOff === null
    ? []
    : trial(
        r,
        reader,
        "reservoir dumped",
        `lift the top-off float by hand until the reservoir (${volume(reader, r.rig.topOff.reservoirM3, true)}) is empty, then pull the plug`,
        "First fit a smaller reservoir, or run the sump lower.",
        "With the whole reservoir in the sump",
      );

/** Blocking the drain by hand is a test only where the prediction says that the floor stays dry. */
function blockedDrainStep(r: RunResult, reader: Reader): Step {
  const { fuses } = r.hydraulics.marks;
  const spills = fuses.filter(({ outcome }) => outcome === "spills");
  const several = fuses.length > 1;
  if (spills.length > 0)
    return {
      do: `Do not block ${several ? `the drain of ${spills.map(({ display }) => display).join(" or ")}` : "the drain"} as a test: ${spills.map(({ floorM3 }) => volume(reader, floorM3, true)).join(" or ")} would run onto the floor. First give ${several ? "it" : "the tank"} a second drain, more room below the rim, or a float switch that stops the pump.`,
      lines: [],
    };
  return {
    do: `Block ${several ? "the main drain of each tank in turn" : "the main drain"} by hand at full flow and watch the tank, one hand on the switch. ${fuses.some(({ outcome }) => outcome === "runs dry") ? "The pump must draw air before the water reaches the rim." : "The other drains must carry the flow."}`,
    lines: fuses.flatMap(({ display, aboveIntakeM3, headroomM3 }) => [
      { what: "Water above the pump intake", predicted: volume(reader, aboveIntakeM3, true) },
      { what: `Room below the rim${several ? ` of ${display}` : " of the tank"}`, predicted: volume(reader, headroomM3, true) },
    ]),
  };
}

export function commissioning(r: RunResult, reader: Reader): Child {
  return [
    h(
      "table",
      { class: "sheet-table" },
      h("caption", {}, "Predicted, measured, signed"),
      h(
        "thead",
        {},
        h(
          "tr",
          {},
          ["Step", "Predicted", "Measured", "Initials"].map((t) => h("th", { scope: "col" }, t)),
        ),
      ),
      steps(r, reader).map((s, i) =>
        h(
          "tbody",
          {},
          h("tr", { class: "step" }, h("th", { scope: "rowgroup", colspan: 4 }, `${i + 1}. ${s.do}`)),
          s.lines.map((l) =>
            h("tr", {}, h("td", {}, l.what), h("td", {}, l.predicted), h("td", { class: "blank" }), h("td", { class: "blank" })),
          ),
        ),
      ),
    ),
    signature(),
  ];
}

export const signature = (): Markup =>
  h(
    "div",
    { class: "signature" },
    ["Tested by", "Date", "For the client"].map((t) => h("div", {}, h("span", { class: "line" }), h("span", {}, t))),
  );
