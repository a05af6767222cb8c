// Systems stored in the browser: open, copy, compare, export to one file, import from one.
import { type ComponentChildren, h } from "preact";
import type { RunResult } from "../../scenarios/result/result.ts";
import { saveFile } from "../page/files.ts";
import { answerSection } from "../sections/answer.ts";
import { compareSection } from "../sections/compare.ts";
import type { Context } from "../sections/context.ts";
import { curvePanels, panelAt } from "../sections/curves.ts";
import { bundle } from "./core/kept.ts";
import type { Store } from "./model/store.ts";
import { nodes } from "./view/nodes.ts";
import { thumbnail } from "./view/thumbnail.ts";

const when = (at: number, locale: string): string =>
  new Date(at).toLocaleString(locale, { dateStyle: "medium", timeStyle: "short" });

export function storedScreen(store: Store, onFile: (file: File) => void): ComponentChildren {
  const { kept, compared, keptId, reader } = store.state;
  const button = (text: string, act: () => void, label?: string): ComponentChildren =>
    h("button", { type: "button", onClick: act, ...(label ? { "aria-label": label } : {}) }, text);
  return h(
    "section",
    { class: "kept", "aria-labelledby": "kept-title" },
    h("h2", { id: "kept-title", tabIndex: -1 }, "Kept systems"),
    h(
      "p",
      { class: "lead" },
      "They stay in this browser on this machine. Put them into a file to carry them elsewhere, or as a copy in case the browser forgets.",
    ),
    kept.length === 0 && h("p", {}, "Nothing is kept yet. At the board, “Keep” puts the system here."),
    h(
      "ul",
      { class: "kept-list" },
      kept.map((one) =>
        h(
          "li",
          { key: one.id, class: one.id === keptId ? "here" : "" },
          nodes(thumbnail(one.text)),
          h(
            "div",
            {},
            h("h3", {}, one.name),
            h("p", { class: "note" }, when(one.at, reader.locale), one.id === keptId ? " · on the board" : ""),
          ),
          h(
            "div",
            { class: "actions" },
            button("Open", () => store.begin(one.text, "board", one.id), `Open ${one.name}`),
            button("Make a copy", () => store.duplicate(one), `Make a copy of ${one.name}`),
            button("Discard", () => store.discard(one.id), `Discard ${one.name}`),
            h(
              "label",
              { class: "check" },
              h("input", {
                type: "checkbox",
                checked: compared.includes(one.id),
                onChange: () =>
                  store.set({
                    compared: compared.includes(one.id)
                      ? compared.filter((id) => id !== one.id)
                      : [...compared, one.id].slice(-4),
                  }),
              }),
              " compare",
            ),
          ),
        ),
      ),
    ),
    h(
      "div",
      { class: "actions" },
      kept.length > 1 &&
        h(
          "button",
          { type: "button", disabled: compared.length < 2, onClick: () => void store.compare() },
          compared.length < 2 ? "Mark two or more to compare" : `Compare ${compared.length} on the same axes`,
        ),
      kept.length > 0 &&
        button("Save all as one file", () => saveFile("sumpwright-systems.json", bundle(kept), "application/json")),
      h(
        "label",
        { class: "button file" },
        "Take in a file",
        h("input", {
          type: "file",
          accept: ".json,.yaml,.yml",
          onChange: (e: Event) => {
            const file = (e.currentTarget as HTMLInputElement).files?.[0];
            if (file) onFile(file);
          },
        }),
      ),
      button("Back to the board", () => store.set({ screen: store.state.history.text === "" ? "start" : "board" })),
    ),
  );
}

export function compareScreen(store: Store, width: number): ComponentChildren {
  const { compared, kept, results, reader } = store.state;
  const there = compared.flatMap((id): RunResult[] => {
    const result = results.get(id);
    return result ? [{ ...result, name: kept.find((one) => one.id === id)?.name ?? result.name }] : [];
  });
  // A band beside a line without one would suggest that the line is certain.
  const banded = there.every(({ nitrogen }) => nitrogen.bands.length > 0);
  const alike = banded ? there : there.map((r) => ({ ...r, nitrogen: { ...r.nitrogen, bands: [] } }));
  const c: Context = { results: alike, focus: 0, reader, width, changed: null, live: true };
  const list = there.length > 1 ? curvePanels(c) : [];
  const names = compared.flatMap((id) => kept.find((one) => one.id === id)?.name ?? []);
  const enough = compared.length > 1;
  return h(
    "section",
    { class: "compare", "aria-labelledby": "compare-heading" },
    h("h2", { id: "compare-heading", tabIndex: -1 }, names.length > 1 ? names.join(" and ") : "Compared"),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", onClick: () => store.set({ screen: "kept" }) }, "Back to the kept systems"),
    ),
    !enough && h("p", {}, "Choose at least two kept systems."),
    enough &&
      there.length < compared.length &&
      h("p", { role: "status" }, `Working out ${there.length + 1} of ${compared.length}…`),
    there.length > 1 && [
      nodes(compareSection(c)),
      h("h3", {}, "Water over the days"),
      list.map((panel, i) => h("div", { key: panel.id }, nodes(panelAt(c, panel, i === list.length - 1)))),
      nodes(answerSection(c)),
    ],
  );
}
