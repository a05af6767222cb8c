// The section drawing of a rig at one moment of an outage run. The SVG is self-contained; the player moves only water and
// flows.
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import type { Reader } from "../view/reader.ts";
import { drawClosed, drawRock, drawSubmergedMedia } from "./contents.ts";
import { columnAreas, dimensionColumns, drawColumn } from "./dimensions.ts";
import { drawLabels, scaleBar } from "./labels.ts";
import { drawDisplayGlass, drawPipe, drawPump, drawSumpGlass } from "./parts.ts";
import { patterns } from "./patterns.ts";
import type { Layout } from "./places.ts";
import { drawReactors } from "./reactors.ts";
import { pathOf, rectOf, sheetFor } from "./sheet.ts";
import { drawStands } from "./stands.ts";
import type { TraceSample } from "./state.ts";
import { drawSocks } from "./sump-parts.ts";
import { drawTower, towerSurface } from "./tower.ts";
import { drawFloor, drawWater, levelSign } from "./water.ts";

export interface CutawayOptions {
  /** Wetted surfaces of the nitrogen model, which shade the media of the towers. */
  readonly surfaces: RunResult["nitrogen"]["surfaces"];
  readonly layout: Layout;
  readonly story: OutageTrace;
  readonly moment: TraceSample;
  readonly reader: Reader;
  /** Width of the drawing [CSS pixels]. */
  readonly width: number;
  /** Prefix of element ids, unique within the page, so that the patterns of two drawings stay separate. */
  readonly prefix: string;
  /** Text for screen readers. */
  readonly caption: string;
  /** Adds handles for the parts that can be dragged. */
  readonly handles?: Child;
}

/** The whole drawing. */
export function drawCutaway({
  surfaces,
  layout,
  story,
  moment,
  reader,
  width,
  prefix,
  caption,
  handles,
}: CutawayOptions): Markup {
  const sheet = sheetFor(layout, width);
  const { defs, ids } = patterns(prefix, sheet.scale, layout.towers[0]?.tower.media.pieceM ?? 0.03);
  const columns = dimensionColumns(layout, sheet, story, reader);
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
      class: sheet.narrow ? "cutaway narrow" : "cutaway",
      viewBox: `0 0 ${sheet.width} ${sheet.height}`,
      role: "img",
      "aria-label": caption,
      "data-story": story.id,
    },
    h("defs", {}, defs),
    drawStands(layout, sheet),
    drawFloor(layout, sheet, moment, reader, ids),
    drawWater(layout, sheet, moment, ids),
    drawRock(layout, sheet, ids),
    layout.reservoir && h("rect", { class: "vessel-outline", ...rectOf(sheet, layout.reservoir) }),
    drawSubmergedMedia(layout, sheet, ids),
    drawSocks(layout.socks, sheet),
    drawClosed(layout, sheet, ids),
    layout.towers.map((t) => drawTower(t, sheet, ids, moment, towerSurface(surfaces, t.tower.id), layout)),
    drawSumpGlass(layout, sheet, ids),
    layout.displays.map((d) => drawDisplayGlass(d, sheet, ids)),
    layout.falls
      .filter((f) => !layout.towers.some((t) => t.tower.id === f.from))
      .map((f) => {
        const q = moment.flowM3PerS.get(f.id) ?? 0;
        return h("path", { class: q > 1e-7 ? "fall" : "fall hidden", "data-flow": f.id, d: pathOf(sheet, f.points) });
      }),
    layout.pipes.map((p) => drawPipe(p, sheet, moment.flowM3PerS.get(p.id) ?? 0)),
    drawReactors(layout, sheet),
    drawPump(layout, sheet),
    layout.displays.flatMap((d) =>
      d.nozzles.map(
        (n) => n.hole && h("circle", { class: "break-hole", cx: sheet.x(n.hole[0]), cy: sheet.y(n.hole[1]), r: 2.6 }),
      ),
    ),
    columns.map((column) => drawColumn(column)),
    signs,
    drawLabels(layout, sheet, reader, columns.flatMap(columnAreas)),
    scaleBar(layout, sheet, reader),
    handles,
  );
}
