// Selection lists beside their fields: animals by size, media, pipes by nominal size, fittings, kit scales, pump curves.
import { type ComponentChildren, h } from "preact";
import { MEDIA_TYPES } from "../../models/tower/media.ts";
import { type Path, type Plain, valueAt } from "../../scenarios/load/edits.ts";
import { parseQuantity } from "../../scenarios/text/units.ts";
import { ANIMALS, curveOfLabel, EXTRA_LOSSES, KIT_SCALES, PIPES, type PickList, RUNS } from "./core/lists.ts";
import type { Store } from "./model/store.ts";

export interface Picked {
  readonly path: Path;
  readonly key: string;
  /** Whether the value replaces the part itself instead of one of its fields. */
  readonly whole?: boolean;
}

const MEDIA: PickList = {
  title: "Kinds and their figures",
  source: "by kind, as named in the list of what the simulation takes",
  picks: MEDIA_TYPES.map((type) => ({
    label: type.kind,
    note: `${Math.round(type.specificSurfaceM2PerM3.likely)} m²/m³, ${Math.round(type.voidShare * 100)} % void`,
    value: type.kind,
  })),
};

function listOf(title: string, lists: readonly PickList[], take: (value: Plain) => void): ComponentChildren {
  return h(
    "details",
    { class: "picker" },
    h("summary", {}, title),
    lists.map((list) => [
      h("p", { class: "picker-title" }, list.title),
      h(
        "ul",
        { class: "picks" },
        list.picks.map(({ label, note, value }) =>
          h(
            "li",
            { key: label },
            h("button", { type: "button", onClick: () => take(value) }, label),
            h("span", { class: "note" }, ` ${note}`),
          ),
        ),
      ),
      h("p", { class: "field-about" }, `Source: ${list.source}.`),
    ]),
  );
}

function pumpPicker(store: Store, path: Path): ComponentChildren {
  const pump = valueAt(store.state.data, path);
  const flowText = typeof pump === "string" ? pump : valueAt(pump, ["flow"]);
  const headText = valueAt(pump, ["head"]);
  const flow = typeof flowText === "string" ? parseQuantity(flowText, "flow") : null;
  const head = typeof headText === "string" ? parseQuantity(headText, "length") : null;
  const write = (value: Plain): void => store.edit([{ do: "set", path, value }]);
  return h(
    "details",
    { class: "picker" },
    h("summary", {}, "By label, or by points"),
    h(
      "div",
      { class: "actions" },
      h(
        "button",
        {
          type: "button",
          onClick: () =>
            write({
              flow: typeof flowText === "string" ? flowText : "2000 L/h",
              head: typeof headText === "string" ? headText : "2 m",
            }),
        },
        "By its label",
      ),
      h(
        "button",
        {
          type: "button",
          onClick: () => write({ curve: curveOfLabel(flow?.ok ? flow.value * 3.6e6 : 2000, head?.ok ? head.value : 2) }),
        },
        "By points of its curve",
      ),
    ),
    h(
      "p",
      { class: "field-about" },
      "The points begin with a curve through the label's two figures (modelling assumption): put in those of the leaflet.",
    ),
  );
}

/** The list for a field or part; null if there is none. */
export function picker(store: Store, at: Picked): ComponentChildren {
  const set = (value: Plain): void => store.edit([{ do: "set", path: at.path, value }]);
  const [parent, before] = [at.path.at(-2), at.path.at(-3)];
  if (at.whole) {
    if (at.key === "stock")
      return listOf("Pick by size", [ANIMALS], (value) => {
        const stock = valueAt(store.state.data, ["stock"]);
        const empty = stock === undefined || (Array.isArray(stock) && stock.length === 0);
        if (empty) store.edit([{ do: "insert", path: ["stock"], index: 0, value }]);
        else set(value);
      });
    if (at.key === "fittings") return listOf("Pick a usual run", [RUNS], set);
    return at.key === "pump" ? pumpPicker(store, at.path) : null;
  }
  if (at.key === "bore" && parent !== "hole") return listOf("Pick by the size it is sold under", PIPES, set);
  if (at.key === "extra loss") return listOf("See the figures", [EXTRA_LOSSES], set);
  if (at.key === "kind" && (parent === "media" || before === "media")) return listOf("See the figures", [MEDIA], set);
  if (parent === "kit" && Object.hasOwn(KIT_SCALES, at.key))
    return listOf("Pick by the leaflet", [KIT_SCALES[at.key as keyof typeof KIT_SCALES]], set);
  return null;
}
