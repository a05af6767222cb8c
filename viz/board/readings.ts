// Kit readings, entered on the printed scale and stored with the system.
import { type ComponentChildren, h } from "preact";
import { type Plain, valueAt } from "../../scenarios/load/edits.ts";
import type { Store } from "./model/store.ts";

const KINDS = [
  ["ammonia", "Ammonia", "mg/L"],
  ["nitrite", "Nitrite", "mg/L"],
  ["nitrate", "Nitrate", "mg/L"],
  ["ph", "pH", ""],
  ["kh", "KH", "dKH"],
] as const;

export function readings(store: Store): ComponentChildren {
  const { data } = store.state;
  const list = valueAt(data, ["readings"]);
  const entries = Array.isArray(list) ? (list as Readonly<Record<string, unknown>>[]) : [];
  const add = (e: Event): void => {
    e.preventDefault();
    const form = e.currentTarget as HTMLFormElement;
    const typed = new FormData(form);
    const text = (name: string): string => String(typed.get(name) ?? "").trim();
    const entry: Record<string, Plain> = { at: `day ${text("day")}` };
    for (const [key] of KINDS) {
      const value = text(key);
      if (value !== "")
        entry[key] = key === "kh" ? (/[a-z]/i.test(value) ? value : `${value} dKH`) : Number(value.replace(",", "."));
    }
    if (Object.keys(entry).length < 2) {
      store.set({ notice: "Type at least one value beside the day." });
      return;
    }
    store.edit([{ do: "insert", path: ["readings"], index: entries.length, value: entry }]);
    form.reset();
  };
  return h(
    "section",
    { class: "readings-box", "aria-labelledby": "readings-title" },
    h("h2", { id: "readings-title" }, "Your readings"),
    h(
      "p",
      { class: "note" },
      "As the kit prints them, on the scale that is named under “Kit”. They are drawn on the charts and kept with the system.",
    ),
    h(
      "form",
      { class: "reading-form", onSubmit: add },
      h("label", {}, "Day ", h("input", { name: "day", type: "number", min: 0, step: "any", required: true })),
      KINDS.map(([key, title, unit]) =>
        h(
          "label",
          { key },
          `${title} `,
          h("input", {
            name: key,
            type: "text",
            inputMode: "decimal",
            pattern: "[0-9]*[.,]?[0-9]*( ?d?KH)?",
            autocomplete: "off",
          }),
          unit && ` ${unit}`,
        ),
      ),
      h("button", { type: "submit" }, "Add the reading"),
    ),
    entries.length > 0 &&
      h(
        "div",
        { class: "table-scroll", tabIndex: 0, role: "region", "aria-label": "Readings" },
        h(
          "table",
          {},
          h(
            "thead",
            {},
            h(
              "tr",
              {},
              h("th", { scope: "col" }, "When"),
              KINDS.map(([, title, unit]) =>
                h("th", { scope: "col" }, unit === "" || unit === "dKH" ? title : `${title}, ${unit}`),
              ),
              h("th", { scope: "col" }, ""),
            ),
          ),
          h(
            "tbody",
            {},
            entries.map((entry, i) =>
              h(
                "tr",
                { key: i },
                h("th", { scope: "row" }, String(entry.at ?? "")),
                KINDS.map(([key]) => h("td", {}, entry[key] === undefined ? "–" : String(entry[key]))),
                h(
                  "td",
                  {},
                  h(
                    "button",
                    {
                      type: "button",
                      "aria-label": `Remove the reading of ${String(entry.at)}`,
                      onClick: () => store.edit([{ do: "remove", path: ["readings", i] }]),
                    },
                    "Remove",
                  ),
                ),
              ),
            ),
          ),
        ),
      ),
  );
}
