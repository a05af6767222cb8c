// Below the drawing: the days as on the page, with the curves of the last save in the background.
import { type ComponentChildren, h } from "preact";
import type { RunResult } from "../../scenarios/result/result.ts";
import { drawRail } from "../charts/rail.ts";
import { type Context, spanDays } from "../sections/context.ts";
import { curvePanels, panelAt } from "../sections/curves.ts";
import type { State } from "./model/store.ts";
import { nodes } from "./view/nodes.ts";

const FIRST: readonly string[] = ["tan", "no2", "no3"];

/** Input of the charts; null without days. */
export function contextOf(state: State, width: number): Context | null {
  const { result, nitrogen, base, reader } = state;
  if (!result || !nitrogen) return null;
  const now: RunResult = { ...result, nitrogen };
  const before = base && base.nitrogen !== nitrogen ? base : null;
  return { results: [before ?? now], focus: 0, reader, width, changed: before ? now : null, live: true };
}

export function curves(state: State, width: number): ComponentChildren {
  const c = contextOf(state, width);
  if (!c) return null;
  const list = curvePanels(c);
  const shown = c.changed ? [c.changed] : c.results;
  const first = list.filter(({ id }) => FIRST.includes(id));
  const more = list.filter(({ id }) => !FIRST.includes(id));
  return h(
    "section",
    { class: "curves", "aria-labelledby": "curves-title" },
    h("h2", { id: "curves-title" }, "Water over the days"),
    c.changed && h("p", { class: "note" }, "The thin line is how it was when last saved."),
    nodes(
      drawRail(
        shown.flatMap((r) => r.nitrogen.marks),
        { from: 0, to: spanDays(c.results) },
        width,
      ),
    ),
    first.map((panel, i) => h("div", { key: panel.id }, nodes(panelAt(c, panel, i === first.length - 1)))),
    more.length > 0 &&
      h(
        "details",
        {},
        h("summary", {}, `${more.length} more charts`),
        more.map((panel, i) => h("div", { key: panel.id }, nodes(panelAt(c, panel, i === more.length - 1)))),
      ),
  );
}
