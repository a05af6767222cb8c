// Commissioning sheet: predictions, space for measurements, signature. Steps of the pull-the-plug test: common
// practice, no published source.
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { at, levelMarks, moments, ruledVessels } from "../cutaway/marks.ts";
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
  const { cutS, restartS, endS } = moments(story);
  if (!sump || cutS === null || sump.rimZ === null) return [];
  const rest = restartS ?? endS;
  return [30, 120, 300, 600].map((s) => ({
    what: `Return chamber ${duration(reader, s)} after the plug is pulled, below the rim`,
    predicted: length(reader, sump.rimZ! - at(story.timeS, sump.levelZ, Math.min(rest, cutS + s)), true),
  }));
}

export function steps(r: RunResult, reader: Reader): readonly Step[] {
  const plain = r.hydraulics.stories[0];
  const blocked = r.hydraulics.stories.find((s) => s.faults.length === 1 && /hole/i.test(s.faults[0] ?? ""));
  const marks = r.hydraulics.marks;
  const ruled = plain ? ruledVessels(plain).map((v) => ({ v, m: levelMarks(plain, v) })) : [];
  const down = (rimZ: number | null, z: number | null): string =>
    rimZ === null || z === null ? "–" : belowRim(reader, rimZ - z, true);
  const display = ruled.find((x) => x.v.kind === "display");
  const sump = ruled.find((x) => x.v.kind === "chamber");
  return [
    {
      do: "Fresh water only. Dry paper under every joint. Fill in quarters and wait; 24 h at least, 48 h for a large system. Bulkheads hand-tight.",
      lines: [{ what: "Leaks found", predicted: "none" }],
    },
    {
      do: "Start it. Let it settle for 30 minutes. Measure the flow with a bucket and a watch.",
      lines: [
        { what: "Flow through the pump", predicted: flow(reader, r.hydraulics.running.pumpFlowM3PerS, true) },
        ...(display
          ? [{ what: `${display.v.name}, running, below the rim`, predicted: down(display.v.rimZ, display.m.runningZ) }]
          : []),
        { what: "Return chamber, running, below the rim", predicted: length(reader, marks.sumpRimM - marks.runningM, true) },
      ],
    },
    {
      do:
        plain?.verdict === "FLOODS"
          ? `Do not pull the plug yet: ${volume(reader, plain.floorM3, true)} would run onto the floor. Cure that first, then run this sheet again.`
          : "Pull the plug itself, not a controller. Dry hands, dry floor. Start a watch. Towels and the drain hose within reach.",
      lines: plain && plain.verdict !== "FLOODS" ? plugLines(plain, reader) : [],
    },
    {
      do: "Compare. Within 5 mm is good; 5 to 15 mm, find out why; more, stop and find out why.",
      lines: [
        { what: "Return chamber at rest, below the rim", predicted: length(reader, marks.sumpRimM - marks.offLevelM, true) },
      ],
    },
    {
      do: "Restart it: three times for a drilled overflow, ten times for a siphon overflow.",
      lines: [
        ...(sump ? [{ what: "Lowest in the return chamber, below the rim", predicted: down(sump.v.rimZ, sump.m.lowZ) }] : []),
        ...(display
          ? [{ what: `Highest in ${display.v.name}, below the rim`, predicted: down(display.v.rimZ, display.m.peakZ) }]
          : []),
      ],
    },
    {
      do: "Pull the plug again with the break hole taped shut, and any check valve held open or taken out. If the sump does not hold that, lower the running line until it does: that is MAX FILL.",
      lines: [
        ...(blocked
          ? [
              {
                what: "With the hole taped shut",
                predicted:
                  blocked.verdict === "FLOODS"
                    ? `${volume(reader, blocked.floorM3, true)} on the floor`
                    : `${length(reader, blocked.marginM, true)} to spare`,
              },
            ]
          : []),
        ...(marks.maxRunningUntrustedM !== null
          ? [{ what: "MAX FILL, below the rim", predicted: length(reader, marks.sumpRimM - marks.maxRunningUntrustedM, true) }]
          : []),
      ],
    },
    blockedDrainStep(r, reader),
    ...(r.rig.topOff
      ? [
          {
            do: "Lift the top-off float by hand until the reservoir is empty, or work it out. The sump must still pass the plug test.",
            lines: [{ what: "Reservoir", predicted: volume(reader, r.rig.topOff.reservoirM3, true) }],
          },
        ]
      : []),
    { do: "Put on the marks. Re-test twice a year, after any change to the plumbing, and before holidays.", lines: [] },
  ];
}

/** Blocking the drain by hand is a test only where the predicted result leaves the floor dry. */
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
