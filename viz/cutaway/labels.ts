// Names of the parts, and the scale.
import { type Child, h, type Markup } from "../view/markup.ts";
import { bareLength, type Reader } from "../view/reader.ts";
import type { Layout, Point } from "./places.ts";
import type { Sheet } from "./sheet.ts";

/** Room that the longest name takes beside its part, with its leader [SVG units]. */
const NAME_WIDE = 140;

interface Label {
  readonly text: string;
  readonly at: Point;
  readonly to: readonly [dx: number, dy: number];
}

/** Names of the parts, on leaders, as on a drawing. */
export function drawLabels(layout: Layout, sheet: Sheet, reader: Reader): Child[] {
  if (sheet.narrow || sheet.scale < 260) return [];
  const labels: Label[] = [];
  const first = layout.displays[0];
  if (first) {
    const box = first.overflows[0];
    if (box) labels.push({ text: box.hung ? "weir of the hung box" : "weir", at: [box.crest.x, box.crest.z], to: [34, 30] });
    const nozzle = first.nozzles[0];
    if (nozzle) {
      labels.push({ text: `nozzle tip`, at: [nozzle.x, nozzle.tipZ], to: [-48, 34] });
      const bore = layout.displays[0]!.nozzles[0]!.hole;
      if (bore) labels.push({ text: "break hole", at: bore, to: [-58, -26] });
    }
  }
  const tower = layout.towers[0];
  if (tower) {
    // To the right where the return leaves room for a name, else to the left.
    const riserX = Math.min(...layout.pipes.filter((p) => p.kind === "riser").map((p) => p.points[0]![0]));
    const right = (riserX - tower.shell.x1) * sheet.scale > NAME_WIDE || riserX < tower.shell.x0;
    const [x, sign] = right ? [tower.media.x1, 1] : [tower.media.x0, -1];
    const { media, pad, tray } = tower;
    labels.push({
      text: `media, ${bareLength(reader, tower.tower.mediaDepthM)} deep`,
      at: [x, (media.z0 * 2 + media.z1) / 3],
      to: [26 * sign, 8],
    });
    if (pad) labels.push({ text: "prefilter pad", at: [x, (pad.z0 + pad.z1) / 2], to: [30 * sign, -16] });
    labels.push({ text: tower.tower.distribution, at: [x, tray.z0 + 0.004], to: [30 * sign, 10] });
  }
  return labels.map(({ text, at, to }) => {
    const x = sheet.x(at[0]);
    const y = sheet.y(at[1]);
    const anchor = to[0] < 0 ? "end" : "start";
    return h(
      "g",
      { class: "part-label" },
      h("path", { class: "leader", d: `M${x.toFixed(1)},${y.toFixed(1)}l${to[0]},${to[1]}` }),
      h("circle", { class: "leader-dot", cx: x, cy: y, r: 1.6 }),
      h("text", { class: "on-sheet", x: x + to[0] + (to[0] < 0 ? -3 : 3), y: y + to[1] + 4, "text-anchor": anchor }, text),
    );
  });
}

export function scaleBar(layout: Layout, sheet: Sheet, reader: Reader): Markup {
  const lengthM = reader.units === "metric" ? (sheet.narrow ? 0.2 : 0.3) : 0.3048;
  const x = sheet.x(layout.bounds.x0);
  const y = sheet.height - 8;
  const wide = lengthM * sheet.scale;
  const half = wide / 2;
  return h(
    "g",
    { class: "scale-bar" },
    h("rect", { x, y: y - 4, width: half, height: 4, class: "bar-dark" }),
    h("rect", { x: x + half, y: y - 4, width: half, height: 4, class: "bar-light" }),
    h(
      "text",
      { x: x + wide + 6, y },
      `${reader.units === "metric" ? `${lengthM * 1000} mm` : "1 ft"}${sheet.narrow ? "" : ", to scale"}; levels ${reader.units === "metric" ? "in mm" : "in inches"} down from the rim`,
    ),
  );
}
