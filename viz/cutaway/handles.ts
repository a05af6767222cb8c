// Handles of the drawing: parts that the user drags up and down, each linked to a control of "Try it".
import type { RunResult } from "../../scenarios/result/result.ts";
import { type Child, h } from "../view/markup.ts";
import type { Layout } from "./places.ts";
import type { Sheet } from "./sheet.ts";

interface Handle {
  /** Id of the control. */
  readonly id: string;
  readonly label: string;
  readonly x: number;
  readonly z: number;
  /** Change of the control's value per metre upwards: 1 for a level, -1 for a depth below the surface. */
  readonly perUp: 1 | -1;
}

/** Id of the control for the top of a baffle. */
export const baffleKnob = (index: number): string => `baffle-${index + 1}`;

/** Baffles with flow over their upper edge; the upper edge of a baffle with flow only underneath matters little. */
export const draggableBaffles = (rig: RunResult["rig"]): readonly number[] =>
  rig.sump.baffles.flatMap((baffle, i) => (baffle.kind === "under" ? [] : [i]));

function handlesOf(result: RunResult, layout: Layout): readonly Handle[] {
  const last = layout.chambers.at(-1);
  const nozzle = layout.displays[0]?.nozzles[0];
  return [
    ...(last
      ? [
          {
            id: "fill",
            label: "Water line of the return chamber",
            x: last.box.x0 + (last.box.x1 - last.box.x0) * 0.18,
            z: result.rig.sump.runningLevelM,
            perUp: 1 as const,
          },
        ]
      : []),
    ...(nozzle ? [{ id: "nozzle", label: "Depth of the nozzle", x: nozzle.x, z: nozzle.tipZ, perUp: -1 as const }] : []),
    ...draggableBaffles(result.rig).flatMap((i) => {
      const place = layout.baffles[i];
      return place
        ? [
            {
              id: baffleKnob(i),
              label: `Top of baffle ${i + 1}`,
              x: (place.box.x0 + place.box.x1) / 2,
              z: place.box.z1,
              perUp: 1 as const,
            },
          ]
        : [];
    }),
  ];
}

/** @param wanted ids of the controls that the page has */
export function drawHandles(result: RunResult, layout: Layout, sheet: Sheet, wanted: ReadonlySet<string>): Child {
  const list = handlesOf(result, layout).filter(({ id }) => wanted.has(id));
  return list.map(({ id, label, x, z, perUp }) => {
    const [cx, cy] = [sheet.x(x), sheet.y(z)];
    return h(
      "g",
      {
        class: "handle",
        "data-handle": id,
        "data-metres": String(perUp / sheet.scale),
        transform: `translate(${cx.toFixed(1)},${cy.toFixed(1)})`,
      },
      h("title", {}, `${label}: drag it up or down`),
      h("rect", { class: "handle-reach", x: -14, y: -14, width: 28, height: 28 }),
      h("path", { class: "handle-grip", d: "M0,-9l4,5h-8zM0,9l4,-5h-8z" }),
    );
  });
}
