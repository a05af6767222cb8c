// Left column: the parts in order of flow, with buttons to add and remove; one Tab stop, arrow keys inside.
import { type ComponentChildren, h } from "preact";
import { type Path, valueAt } from "../../scenarios/load/edits.ts";
import { flat, oneOf, type Part, partGroups, placed, titleOf } from "./core/parts.ts";
import { freshEntry } from "./fresh.ts";
import type { Store } from "./model/store.ts";

const same = (a: Path, b: Path): boolean => a.length === b.length && a.every((step, i) => step === b[i]);
const idOf = (path: Path): string => `part-${path.join("-").replaceAll(/[^\w-]/g, "_") || "whole"}`;

function row(store: Store, part: Part, depth: number, chosen: Path): ComponentChildren {
  const here = same(part.path, chosen);
  return [
    h(
      "li",
      { role: "none", key: part.path.join(".") },
      h(
        "button",
        {
          type: "button",
          id: idOf(part.path),
          role: "treeitem",
          "aria-level": depth + 1,
          "aria-selected": here,
          ...(part.children.length > 0 ? { "aria-expanded": true } : {}),
          tabIndex: here ? 0 : -1,
          class: `part ${part.state}${here ? " here" : ""}`,
          "data-depth": String(Math.min(depth, 4)),
          "data-path": part.path.join("."),
          onClick: () => store.set({ chosen: part.path, pane: "part", sheet: "part" }),
        },
        h("span", { class: "part-title" }, part.title),
        part.state === "absent"
          ? h("span", { class: "part-gist" }, "none")
          : part.gist && h("span", { class: "part-gist" }, part.gist),
        part.errors > 0 && h("span", { class: "part-errors" }, `${part.errors} to mend`),
      ),
    ),
    part.children.map((child) => row(store, child, depth + 1, chosen)),
  ];
}

export function tree(store: Store): ComponentChildren {
  const { data, errors, chosen } = store.state;
  const groups = partGroups(data ?? {}, placed(errors));
  const all = flat(groups);
  // Exactly one of them is the Tab stop.
  const at = all.some((part) => same(part.path, chosen)) ? chosen : [];

  const move = (e: KeyboardEvent): void => {
    const i = all.findIndex((part) => same(part.path, at));
    const next =
      e.key === "ArrowDown"
        ? i + 1
        : e.key === "ArrowUp"
          ? i - 1
          : e.key === "Home"
            ? 0
            : e.key === "End"
              ? all.length - 1
              : null;
    const part = all[next ?? -1];
    if (!part) return;
    e.preventDefault();
    store.set({ chosen: part.path, pane: "part" });
    document.getElementById(idOf(part.path))?.focus();
  };
  return h(
    "nav",
    { class: "tree", "aria-label": "Parts" },
    h("h2", {}, "Parts"),
    h(
      "ul",
      { role: "tree", "aria-label": "Parts in the order in which water flows", onKeyDown: move },
      groups.map((group) => [
        group.title !== "" && h("li", { class: "tree-group", role: "none", key: group.title }, group.title),
        group.parts.map((part) => row(store, part, 0, at)),
      ]),
    ),
  );
}

/** Buttons that add, remove, copy and move the selected part. */
export function partButtons(store: Store): ComponentChildren {
  const { data, chosen } = store.state;
  const part = flat(partGroups(data ?? {}, [])).find((one) => same(one.path, chosen));
  if (!part || chosen.length === 0) return null;
  const { list } = part;
  const key = String([...chosen].reverse().find((step) => typeof step === "string"));
  const index = Number(chosen.at(-1));
  const value = valueAt(data, chosen);
  const entries = list ? valueAt(data, list) : undefined;
  const count = Array.isArray(entries) ? entries.length : part.state === "written" ? 1 : 0;
  const button = (text: string, act: () => void): ComponentChildren => h("button", { type: "button", onClick: act }, text);
  const insertAt = (at: number, entry: unknown): void => {
    if (!list) return;
    store.edit([{ do: "insert", path: list, index: at, value: entry as never }]);
    store.set({ chosen: [...list, Math.min(at, count)] });
  };
  return h(
    "div",
    { class: "actions part-actions", role: "group", "aria-label": "What to do with this part" },
    part.state !== "written" &&
      !list &&
      button(`Add ${titleOf(key).toLowerCase()}`, () =>
        store.edit([{ do: "set", path: chosen, value: freshEntry(chosen, data) }]),
      ),
    list &&
      button(`Add ${/^[aeiou]/.test(oneOf(key)) ? "an" : "a"} ${oneOf(key)}`.replace("an animals", "animals"), () =>
        insertAt(count, freshEntry([...list, 0], {})),
      ),
    list && part.state === "written" && button("Make a copy", () => insertAt(index + 1, structuredClone(value))),
    list &&
      count > 1 &&
      index > 0 &&
      button("Move up", () => {
        store.edit([{ do: "move", path: list, from: index, to: index - 1 }]);
        store.set({ chosen: [...list, index - 1] });
      }),
    list &&
      count > 1 &&
      index < count - 1 &&
      button("Move down", () => {
        store.edit([{ do: "move", path: list, from: index, to: index + 1 }]);
        store.set({ chosen: [...list, index + 1] });
      }),
    part.state === "written" &&
      button(list ? `Remove this ${oneOf(key)}` : "Take it out", () => {
        store.edit([{ do: "remove", path: chosen }]);
        store.set({ chosen: list ? [...list, Math.max(0, index - 1)] : chosen });
      }),
  );
}
