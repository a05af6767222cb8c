// Small figures beside the answers: a curve without axes, and a level against the rim.
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { levelMarks, ruledVessels } from "../cutaway/marks.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { speciesOf } from "./panel.ts";
import { linear } from "./scale.ts";
import { curvePath } from "./thin.ts";

const WIDE = 132;
const HIGH = 60;
const BASE = HIGH - 16;

const picture = (kind: string, ...children: Child[]): Markup =>
  h("svg", { class: `small small-${kind}`, viewBox: `0 0 ${WIDE} ${HIGH}`, "aria-hidden": "true" }, children);

/**
 * Curves of nitrogen species without axes, with vertical lines on the days that matter. Null when the run has none of
 * the species.
 */
export function sparkline(result: RunResult, species: readonly string[], days: readonly number[]): Markup | null {
  const names = new Set(result.rig.displays.flatMap((d) => [d.id, d.name]));
  const wanted = result.nitrogen.series.filter((s) => s.panel === "nitrogen" && species.includes(speciesOf(s.id) ?? ""));
  const inDisplay = wanted.filter((s) => names.has(s.place));
  // Nitrite is preferred, otherwise another species; measured in a display where possible.
  const order = [...species].sort((a, b) => Number(b === "no2") - Number(a === "no2"));
  const lines = order
    .slice(0, 1)
    .flatMap((what) => (inDisplay.length > 0 ? inDisplay : wanted).find((s) => speciesOf(s.id) === what) ?? []);
  if (lines.length === 0) return null;
  const times = result.nitrogen.timeDays;
  const end = times.at(-1) ?? 1;
  const most = Math.max(1e-9, ...lines.flatMap((l) => l.values.map((v) => v ?? 0)));
  const x = linear([0, end], [2, WIDE - 2]);
  const y = linear([0, most], [BASE, 5]);
  return picture(
    "curve",
    h("path", { class: "small-axis", d: `M0,${BASE + 0.5}H${WIDE}` }),
    lines.map((line, i) =>
      h("path", {
        class: `small-line s${i + 1}`,
        d: curvePath(
          times.map(x),
          line.values.map((v) => (v === null ? null : y(v))),
        ),
      }),
    ),
    days
      .filter((day) => day >= 0 && day <= end)
      .map((day) => {
        const at = x(day);
        const anchor = at > WIDE - 26 ? "end" : at < 26 ? "start" : "middle";
        return [
          h("path", { class: "small-mark", d: `M${at.toFixed(1)},2V${BASE + 3}` }),
          h("text", { x: at, y: HIGH - 4, "text-anchor": anchor }, `day ${Math.floor(day)}`),
        ];
      }),
  );
}

/** The critical vessel of an outage run: its running level, its highest level, and its rim. */
export function levelBar(story: OutageTrace): Markup | null {
  const vessels = ruledVessels(story).flatMap((v) => {
    if (v.rimZ === null) return [];
    const m = levelMarks(story, v);
    const top = Math.max(...v.levelZ);
    return [{ v, runningZ: m.runningZ, topZ: top, spareM: v.rimZ - top }];
  });
  // The vessel that spills; otherwise the return chamber, which receives the water after a stop.
  const spilling = vessels.find(({ spareM }) => story.floorM3 > 0 && spareM <= 1e-4);
  const worst = spilling ?? vessels.find(({ v }) => v.kind === "chamber") ?? vessels[0];
  if (!worst) return null;
  const { v, runningZ, topZ } = worst;
  const rim = v.rimZ!;
  const y = linear([v.bottomZ, rim], [HIGH - 3, 12]);
  const [left, right] = [24, WIDE - 44];
  const line = (z: number, className: string): Markup =>
    h("path", { class: className, d: `M${left},${y(Math.min(z, rim)).toFixed(1)}H${right}` });
  return picture(
    "level",
    h("rect", {
      class: "small-water",
      x: left,
      y: y(Math.min(topZ, rim)),
      width: right - left,
      height: HIGH - 3 - y(Math.min(topZ, rim)),
    }),
    line(runningZ, "small-running"),
    line(topZ, "small-top"),
    h("path", { class: "small-glass", d: `M${left},8V${HIGH - 3}H${right}V8` }),
    h("path", { class: "small-mark", d: `M${left - 8},12h8M${right},12h8` }),
    h("text", { x: right + 10, y: 16 }, "rim"),
    story.floorM3 > 0 && h("path", { class: "small-spill", d: `M${right + 3},12q7,2 7,${HIGH - 16}` }),
  );
}
