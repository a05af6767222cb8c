// Middle column: the interactive section drawing. It selects parts, and drags levels, baffles and outlets by pointer or by key.
import { type ComponentChildren, h } from "preact";
import type { RunResult } from "../../scenarios/result/result.ts";
import { drawCutaway } from "../cutaway/draw.ts";
import { layout } from "../cutaway/layout.ts";
import { stageTimes } from "../cutaway/marks.ts";
import type { Layout } from "../cutaway/places.ts";
import { rectOf, type Sheet, sheetFor } from "../cutaway/sheet.ts";
import { bind, type TraceSample, traceSampleAt } from "../cutaway/state.ts";
import { cutawayCaption } from "../sections/picture.ts";
import type { Reader } from "../view/reader.ts";
import type { State, Store } from "./model/store.ts";
import { type Handle, handles, partBoxes } from "./view/handles.ts";
import { nodes } from "./view/nodes.ts";

/** Until the days are computed, towers are drawn without the load of their surfaces. */
const NO_SURFACES: RunResult["nitrogen"]["surfaces"] = [];

const same = (a: readonly unknown[], b: readonly unknown[]): boolean => a.length === b.length && a.every((x, i) => x === b[i]);

interface Drawn {
  readonly plan: Layout;
  readonly sheet: Sheet;
  readonly moment: TraceSample;
  readonly list: readonly Handle[];
}

/** Contents of the drawing: the rig during the drag, the water levels of the latest model answer. */
export function drawn(state: State, width: number): Drawn | null {
  const { rig, story, drag, data } = state;
  if (!rig || !story) return null;
  const shown = drag ? drag.handle.moved(rig, drag.z) : rig;
  const plan = layout(shown);
  const { restartS, endS } = stageTimes(story);
  const off = restartS === null ? endS : Math.max(0, restartS - 0.1);
  const still = traceSampleAt(bind(plan, story), 0);
  const now = state.moment === "off" ? traceSampleAt(bind(plan, story), off) : still;
  const surfaceZ = new Map(now.surfaceZ);
  if (drag?.handle.surface && state.moment === "running") surfaceZ.set(drag.handle.surface, drag.z);
  return {
    plan,
    sheet: sheetFor(plan, width),
    moment: { ...now, surfaceZ },
    list: handles(data, rig, layout(rig), still.surfaceZ, state.reader.units),
  };
}

const stepM = (reader: Reader): number => (reader.units === "US" ? 0.0254 / 16 : 0.001);

/** Start of the drag. The drawing may move or change its scale during the drag; the pointer does not. */
let grab: { readonly y: number; readonly z: number; readonly pixelsPerM: number } | null = null;

function handleNode(store: Store, handle: Handle, sheet: Sheet, z: number): ComponentChildren {
  const { drag, chosen } = store.state;
  const [x0, x1, y] = [sheet.x(handle.x0), sheet.x(handle.x1), sheet.y(z)];
  const mid = x0 + (x1 - x0) * (handle.gripAt ?? 0.5);
  const zAt = (e: PointerEvent): number => {
    if (!grab) return z;
    return Math.min(handle.highZ, Math.max(handle.lowZ, grab.z + (grab.y - e.clientY) / grab.pixelsPerM));
  };
  const keep = (next: number): void => {
    store.drag(handle, Math.min(handle.highZ, Math.max(handle.lowZ, next)));
    store.drop(`key ${handle.id}`);
  };
  const onKeyDown = (e: KeyboardEvent): void => {
    const step = stepM(store.state.reader) * (e.shiftKey || e.key.startsWith("Page") ? 10 : 1);
    const up = e.key === "ArrowUp" || e.key === "ArrowRight" || e.key === "PageUp";
    if (!up && !["ArrowDown", "ArrowLeft", "PageDown"].includes(e.key)) return;
    e.preventDefault();
    keep(handle.z + (up ? step : -step));
  };
  const grip = Math.min(11, (x1 - x0) / 2 + 5);
  return h(
    "g",
    {
      key: handle.id,
      class: `handle${drag?.handle.id === handle.id ? " held" : ""}${same(handle.part, chosen) ? " near" : ""}`,
      role: "slider",
      tabindex: 0,
      "aria-label": handle.label,
      "aria-orientation": "vertical",
      "aria-valuemin": Math.round(handle.lowZ * 1000),
      "aria-valuemax": Math.round(handle.highZ * 1000),
      "aria-valuenow": Math.round(z * 1000),
      "aria-valuetext": handle.text(z),
      "data-handle": handle.id,
      onKeyDown,
      onFocus: () => {
        if (!same(store.state.chosen, handle.part)) store.set({ chosen: handle.part });
      },
      onPointerDown: (e: PointerEvent) => {
        if (e.button !== 0) return;
        e.preventDefault();
        const svg = (e.currentTarget as SVGElement).ownerSVGElement!;
        grab = { y: e.clientY, z: handle.z, pixelsPerM: (sheet.scale * svg.getBoundingClientRect().width) / sheet.width };
        (e.currentTarget as SVGElement).setPointerCapture(e.pointerId);
        (e.currentTarget as SVGElement).focus({ preventScroll: true });
        store.drag(handle, handle.z);
      },
      onPointerMove: (e: PointerEvent) => {
        const held = store.state.drag?.handle;
        if (held?.id === handle.id) store.drag(held, zAt(e));
      },
      onPointerUp: () => {
        if (store.state.drag?.handle.id === handle.id) store.drop();
      },
      onPointerCancel: () => {
        if (store.state.drag?.handle.id === handle.id) store.set({ drag: null });
      },
    },
    h("rect", { class: "handle-reach", x: Math.min(x0, (x0 + x1) / 2 - 16), y: y - 9, width: Math.max(x1 - x0, 32), height: 18 }),
    h("path", { class: "handle-line", d: `M${x0.toFixed(1)} ${y.toFixed(1)}H${x1.toFixed(1)}` }),
    h("path", { class: "handle-grip", d: `M${(mid - grip).toFixed(1)} ${y.toFixed(1)}l${grip}-6 ${grip} 6-${grip} 6z` }),
    drag?.handle.id === handle.id &&
      h("text", { class: "handle-value", x: mid, y: y - 12, "text-anchor": "middle" }, handle.text(z)),
  );
}

export function drawing(store: Store, width: number): ComponentChildren {
  const { state } = store;
  const { rig, story, nitrogen, reader, chosen, drag } = state;
  const now = drawn(state, width);
  if (!now || !rig || !story) return null;
  const { plan, sheet, moment, list } = now;
  const when = state.moment === "off" ? "Power off, at rest" : "Running";
  const caption = cutawayCaption(rig, story, when, reader);
  const picture = drawCutaway({
    surfaces: nitrogen?.surfaces ?? NO_SURFACES,
    layout: plan,
    story,
    moment,
    reader,
    width,
    prefix: "board",
    caption,
  });
  const places = partBoxes(state.data, plan);
  const near = [...places].reverse().find(({ part }) => same(part, chosen));
  const { role: _role, "aria-label": label, ...attributes } = picture.attributes;
  const area = places.map((spot) =>
    h("rect", {
      key: `spot ${spot.part.join(".")}`,
      class: "spot",
      ...rectOf(sheet, spot.box),
      onClick: () => store.set({ chosen: spot.part, pane: "part", sheet: "part" }),
    }),
  );
  return h(
    "svg",
    { ...(attributes as Record<string, string>), role: "group", "aria-label": String(label) },
    nodes(picture.children),
    near && h("rect", { class: "chosen-mark", ...rectOf(sheet, near.box) }),
    area,
    state.moment === "running" &&
      list.map((handle) => handleNode(store, handle, sheet, drag?.handle.id === handle.id ? drag.z : handle.z)),
  );
}
