// Commissioning sheet: what is predicted, what was measured, who signed. Steps of the pull-the-plug test: common practice, no published source.
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { at, levelMarks, moments, ruledVessels } from "../cutaway/marks.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { duration, flow, length, type Reader, volume } from "../view/reader.ts";

interface Line {
  readonly what: string;
  readonly predicted: string;
}

interface Step {
  readonly do: string;
  readonly lines: readonly Line[];
}

/** Sump level at set times after the plug is pulled, and where it must have stopped. */
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
    rimZ === null || z === null ? "–" : length(reader, rimZ - z, true);
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
      do: "Pull the plug, really the plug and not a controller. Dry hands, dry floor. Start a watch. Towels and the drain hose at hand.",
      lines: plain ? plugLines(plain, reader) : [],
    },
    {
      do: "Compare. Within 5 mm is good; 5 to 15 mm, find out why; more, stop and find out why.",
      lines: [
        { what: "Return chamber at rest, below the rim", predicted: length(reader, marks.sumpRimM - marks.offLevelM, true) },
      ],
    },
    {
      do: "Restart: three times for a drilled overflow, ten times for a siphon overflow.",
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
    {
      do: "Block the drain by hand at full flow and watch the display. The pump must draw air before the display reaches its rim.",
      lines: [
        { what: "Water above the intake", predicted: volume(reader, marks.fuseM3, true) },
        { what: "Room left in the display", predicted: volume(reader, marks.displayHeadroomM3, true) },
      ],
    },
    ...(r.rig.topOff
      ? [
          {
            do: "Lift the top-off float by hand until the reservoir is empty, or reckon it. The sump must still pass the plug test.",
            lines: [{ what: "Reservoir", predicted: volume(reader, r.rig.topOff.reservoirM3, true) }],
          },
        ]
      : []),
    { do: "Put on the marks. Re-test twice a year, after any change to the plumbing, and before holidays.", lines: [] },
  ];
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
