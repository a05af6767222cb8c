// The section drawing of a rig at one moment of a story. Static SVG first; the player then moves only water and flows.
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import type { Reader } from "../view/reader.ts";
import { drawClosed, drawRock, drawSubmergedMedia } from "./contents.ts";
import { dimensions } from "./dimensions.ts";
import { drawLabels, scaleBar } from "./labels.ts";
import { drawDisplayGlass, drawPipe, drawPump, drawSumpGlass } from "./parts.ts";
import { patterns } from "./patterns.ts";
import type { Layout } from "./places.ts";
import { pathOf, rectOf, type Sheet, sheetFor } from "./sheet.ts";
import type { Moment } from "./state.ts";
import { drawTower, towerSurface } from "./tower.ts";
import { drawFloor, drawWater, levelSign } from "./water.ts";

function drawCabinet(layout: Layout, sheet: Sheet): Child[] {
  const underside = Math.min(...layout.displays.map((d) => d.inside.z0 - d.display.glassM));
  const left = Math.min(...layout.displays.map((d) => d.inside.x0 - d.display.glassM));
  const right = Math.max(...layout.displays.map((d) => d.inside.x1 + d.display.glassM));
  const board = rectOf(sheet, { x0: left - 0.01, x1: right + 0.01, z0: underside - 0.035, z1: underside - 0.002 });
  const legs = [left, right - 0.02].map((x) =>
    h("rect", { class: "stand", ...rectOf(sheet, { x0: x, x1: x + 0.02, z0: layout.floorZ, z1: underside - 0.035 }) }),
  );
  return [h("rect", { class: "stand board", ...board }), ...legs];
}

/**
 * The whole drawing.
 * @param prefix unique within the page, so that patterns of two drawings do not mix
 */
export function drawCutaway(
  result: Pick<RunResult, "nitrogen">,
  layout: Layout,
  story: OutageTrace,
  moment: Moment,
  reader: Reader,
  width: number,
  prefix: string,
  caption: string,
): Markup {
  const sheet = sheetFor(layout, width);
  const { defs, ids } = patterns(prefix, sheet.scale, layout.towers[0]?.tower.media.pieceM ?? 0.03);
  const signs = layout.vessels
    .filter((v) => v.kind === "display" || v.id === layout.chambers.at(-1)?.chamber.id)
    .filter((v) => moment.surfaceZ.has(v.id))
    .map((v) =>
      levelSign(
        sheet.x(
          v.kind === "display"
            ? v.box.x0 + (v.box.x1 - v.box.x0) * (v.id === layout.displays[0]?.display.id ? 0.3 : 0.72)
            : (v.box.x0 + v.box.x1) / 2,
        ),
        sheet.y(moment.surfaceZ.get(v.id)!),
        v.id,
      ),
    );
  return h(
    "svg",
    {
      class: "cutaway",
      viewBox: `0 0 ${sheet.width} ${sheet.height}`,
      role: "img",
      "aria-label": caption,
      "data-story": story.id,
    },
    h("defs", {}, defs),
    drawCabinet(layout, sheet),
    drawFloor(layout, sheet, moment, reader, ids),
    drawWater(layout, sheet, moment, ids),
    drawRock(layout, sheet, ids),
    layout.reservoir && h("rect", { class: "vessel-outline", ...rectOf(sheet, layout.reservoir) }),
    layout.reservoir &&
      !sheet.narrow &&
      h(
        "text",
        {
          class: "part-name",
          x: sheet.x((layout.reservoir.x0 + layout.reservoir.x1) / 2),
          y: sheet.y(layout.reservoir.z1) - 6,
          "text-anchor": "middle",
        },
        "top-off",
      ),
    drawSubmergedMedia(layout, sheet, ids),
    drawClosed(layout, sheet, ids),
    layout.towers.map((t) => drawTower(t, sheet, ids, moment, towerSurface(result.nitrogen, t.tower.id), layout)),
    drawSumpGlass(layout, sheet, ids),
    layout.displays.map((d) => drawDisplayGlass(d, sheet, ids)),
    layout.falls
      .filter((f) => !layout.towers.some((t) => t.tower.id === f.from))
      .map((f) => {
        const q = moment.flowM3PerS.get(f.id) ?? 0;
        return h("path", { class: q > 1e-7 ? "fall" : "fall hidden", "data-flow": f.id, d: pathOf(sheet, f.points) });
      }),
    layout.pipes.map((p) => drawPipe(p, sheet, moment.flowM3PerS.get(p.id) ?? 0)),
    drawPump(layout, sheet),
    layout.displays.flatMap((d) =>
      d.nozzles.map(
        (n) => n.hole && h("circle", { class: "break-hole", cx: sheet.x(n.hole[0]), cy: sheet.y(n.hole[1]), r: 2.6 }),
      ),
    ),
    dimensions(layout, sheet, story, reader),
    signs,
    drawLabels(layout, sheet, reader),
    scaleBar(layout, sheet, reader),
  );
}
