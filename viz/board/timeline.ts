// The calendar strip: one row for each kind of event, moved between days by pointer or by key, with its sentence below.
import { type ComponentChildren, h } from "preact";
import { valueAt } from "../../scenarios/load/edits.ts";
import { EVENT_NAMES } from "../../scenarios/timeline/all.ts";
import { type CalendarEvent, calendarEvents, dayText } from "./core/calendar.ts";
import { asKind } from "./core/parts.ts";
import { readExample } from "./fresh.ts";
import type { Store } from "./model/store.ts";

const ROW = 26;
const LEFT = 118;
const RIGHT = 14;

/** Target day of a drag, before it is in the text. */
export interface DayDrag {
  readonly path: string;
  readonly day: number;
}

const runDays = (data: unknown): number => {
  const days = valueAt(data, ["days"]);
  return typeof days === "number" && days >= 1 && days <= 3660 ? days : 60;
};

export function timeline(
  store: Store,
  width: number,
  drag: DayDrag | null,
  set: (drag: DayDrag | null) => void,
): ComponentChildren {
  const { data, chosen } = store.state;
  const days = runDays(data);
  const list = calendarEvents(data, days);
  const rows = [...new Set(list.map(({ what }) => what))];
  const x = (day: number): number => LEFT + ((width - LEFT - RIGHT) * Math.min(day, days)) / days;
  const dayAt = (e: PointerEvent): number => {
    const box = (e.currentTarget as SVGElement).ownerSVGElement!.getBoundingClientRect();
    const free = (((e.clientX - box.left) / box.width) * width - LEFT) / ((width - LEFT - RIGHT) / days);
    return Math.max(0, Math.min(days, Math.round(free)));
  };
  const put = (one: CalendarEvent, day: number, kind: string | null = null): void => {
    const old = one.day ?? 0;
    // Keep the time of day.
    const to = Math.max(0, Math.floor(day)) + (old - Math.floor(old));
    store.edit([{ do: "set", path: [...one.path, one.key], value: dayText(to) }], kind);
  };
  const ticks = Array.from({ length: Math.floor(days / 7) + 1 }, (_, i) => i * 7).filter(
    (_, i, all) => all.length < 16 || i % Math.ceil(all.length / 15) === 0,
  );
  const height = Math.max(1, rows.length) * ROW + 26;
  const select = (one: CalendarEvent): void => store.set({ chosen: one.path, pane: "part" });
  return h(
    "section",
    { class: "timeline", "aria-labelledby": "timeline-title" },
    h("h2", { id: "timeline-title" }, "What is done, and when"),
    h(
      "svg",
      { class: "strip chart", viewBox: `0 0 ${width} ${height}`, role: "group", "aria-label": `${days} days` },
      ticks.map((day) => [
        h("path", { class: "strip-tick", d: `M${x(day).toFixed(1)} 4V${height - 22}` }),
        h(
          "text",
          { class: "strip-day", x: x(day) + (day === 0 ? 4 : 0), y: height - 7, "text-anchor": day === 0 ? "end" : "middle" },
          day === 0 ? "day 0" : String(day),
        ),
      ]),
      rows.map((what, i) => h("text", { class: "strip-name", x: LEFT - 10, y: i * ROW + 21, "text-anchor": "end" }, what)),
      list.map((one) => {
        const key = one.path.join(".");
        const row = rows.indexOf(one.what);
        const held = drag?.path === key ? drag.day : null;
        const shift = held === null ? 0 : held - Math.floor(one.day ?? 0);
        const y = row * ROW + 16;
        const here = one.path.length === chosen.length && one.path.every((step, i) => step === chosen[i]);
        return h(
          "g",
          {
            key,
            class: `moment${here ? " near" : ""}`,
            role: "slider",
            tabindex: 0,
            "aria-label": one.sentence,
            "aria-valuemin": 0,
            "aria-valuemax": days,
            "aria-valuenow": Math.round(one.day ?? 0),
            "aria-valuetext": dayText(held ?? one.day ?? 0),
            "data-happening": key,
            onFocus: () => !here && select(one),
            onKeyDown: (e: KeyboardEvent) => {
              const step = e.shiftKey ? 7 : 1;
              const by =
                e.key === "ArrowRight" || e.key === "ArrowUp" ? step : e.key === "ArrowLeft" || e.key === "ArrowDown" ? -step : 0;
              if (by === 0) return;
              e.preventDefault();
              put(one, Math.max(0, (one.day ?? 0) + by), `day ${key}`);
            },
            onPointerDown: (e: PointerEvent) => {
              if (e.button !== 0) return;
              e.preventDefault();
              (e.currentTarget as SVGElement).setPointerCapture(e.pointerId);
              (e.currentTarget as SVGElement).focus({ preventScroll: true });
              set({ path: key, day: Math.floor(one.day ?? 0) });
            },
            onPointerMove: (e: PointerEvent) => drag?.path === key && set({ path: key, day: dayAt(e) }),
            onPointerUp: () => {
              if (drag?.path !== key) return;
              const { day } = drag;
              set(null);
              if (day !== Math.floor(one.day ?? 0)) put(one, day);
            },
            onPointerCancel: () => set(null),
          },
          h("rect", { class: "handle-reach", x: x((one.day ?? 0) + shift) - 12, y: y - 12, width: 24, height: 24 }),
          one.days.length > 1 &&
            h("path", {
              class: "strip-run",
              d: `M${x(one.days[0]! + shift).toFixed(1)} ${y}H${x(Math.min(days, one.days.at(-1)! + shift)).toFixed(1)}`,
            }),
          one.days.slice(1).map((day) => h("circle", { class: "strip-again", cx: x(day + shift), cy: y, r: 3 })),
          h("rect", { class: "strip-mark", x: x((one.day ?? 0) + shift) - 5, y: y - 7, width: 10, height: 14 }),
        );
      }),
    ),
    list.length === 0 && h("p", { class: "note" }, "Nothing yet."),
    h(
      "div",
      { class: "actions" },
      h("label", { for: "add-event" }, "Add"),
      h(
        "select",
        {
          id: "add-event",
          value: "",
          onChange: (e: Event) => {
            const select = e.currentTarget as HTMLSelectElement;
            const word = select.value;
            select.value = "";
            if (word === "") return;
            const count = Array.isArray(valueAt(data, ["timeline"])) ? (valueAt(data, ["timeline"]) as unknown[]).length : 0;
            const value = asKind(["timeline", 0], {}, "do", word, readExample);
            store.edit([{ do: "insert", path: ["timeline"], index: count, value }]);
            store.set({ chosen: ["timeline", count], pane: "part" });
          },
        },
        h("option", { value: "" }, "an event…"),
        EVENT_NAMES.map((name) => h("option", { value: name }, name)),
      ),
    ),
    h(
      "ul",
      { class: "happenings" },
      list.map((one) =>
        h(
          "li",
          { key: one.path.join(".") },
          h(
            "button",
            { type: "button", class: "link", onClick: () => store.set({ chosen: one.path, pane: "part", sheet: "part" }) },
            one.sentence,
          ),
        ),
      ),
    ),
  );
}
