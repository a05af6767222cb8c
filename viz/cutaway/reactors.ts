// Reactors on branches of the return: upright bodies on the floor beside the sump.
import { type Child, h } from "../view/markup.ts";
import type { Layout } from "./places.ts";
import { pathOf, rectOf, type Sheet } from "./sheet.ts";

/** The body in section: where its size is given, walls around its water; else a closed cylinder with hatched medium. */
export function drawReactors(layout: Layout, sheet: Sheet): Child[] {
  return layout.reactors.map(({ box, body }) => {
    const lid = (box.z1 - box.z0) * 0.08;
    if (body)
      return h(
        "g",
        { class: "reactor" },
        h("path", {
          class: "shell",
          d: pathOf(sheet, [
            [box.x0, box.z1],
            [box.x0, box.z0],
            [box.x1, box.z0],
            [box.x1, box.z1],
          ]),
        }),
        body.lid === "closed" && h("rect", { class: "plate", ...rectOf(sheet, { ...box, z0: box.z1 - 0.012 }) }),
      );
    return h(
      "g",
      { class: "reactor" },
      h("rect", { class: "reactor-body", ...rectOf(sheet, box) }),
      h("path", {
        class: "hatch",
        d: Array.from({ length: 6 }, (_, i) => {
          const y = sheet.y(box.z0 + (box.z1 - box.z0) * (0.15 + i * 0.12));
          return `M${(sheet.x(box.x0) + 2).toFixed(1)},${y.toFixed(1)}H${(sheet.x(box.x1) - 2).toFixed(1)}`;
        }).join(""),
      }),
      h("rect", { class: "plate", ...rectOf(sheet, { ...box, z0: box.z1 - lid }) }),
    );
  });
}
