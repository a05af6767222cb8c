// Print and share: the page of this system or one of its sheets on paper, as a file, as a link, as a QR code for a phone
// at the tank.
import { type ComponentChildren, h } from "preact";
import encodeQR from "qr";
import type { RunResult } from "../../scenarios/result/result.ts";
import { body, onPaper } from "../body.ts";
import { fileName, saveFile } from "../page/files.ts";
import type { Context } from "../sections/context.ts";
import { sheetsOf } from "../sheets/sheets.ts";
import { stylesheet } from "../style/index.ts";
import { h as markup, toHtml } from "../view/markup.ts";
import { fragmentOf } from "./core/link.ts";
import type { Store } from "./model/store.ts";
import { nodes } from "./view/nodes.ts";

/** A code that a phone reads from a screen: level L holds most, and a screen does not get scratched. */
const MOST_QR = 2300;

export interface Sending {
  readonly link: string;
  /** Preview and print content: a sheet by its id, or everything. */
  readonly what: string;
}
export const NOTHING_SENT: Sending = { link: "", what: "sheet-summary" };

/** Public address of the page; null if it was opened from disk or is reachable only from this machine. */
export const publicAddress = (): string | null =>
  location.protocol === "https:" || (location.protocol === "http:" && !/^(localhost|127\.|\[::1\])/.test(location.host))
    ? location.href.replace(/#.*/, "")
    : null;

async function linkOf(store: Store): Promise<string> {
  return `${location.href.replace(/[#?].*/, "")}${await fragmentOf(store.state.history.text)}`;
}

function code(text: string): ComponentChildren {
  const rows = encodeQR(text, "raw", { ecc: "low", border: 4 });
  const side = rows.length;
  const path = rows.map((row, y) => row.map((on, x) => (on ? `M${x} ${y}h1v1h-1z` : "")).join("")).join("");
  return h(
    "svg",
    { class: "qr", viewBox: `0 0 ${side} ${side}`, role: "img", "aria-label": "The link as a code for a phone's camera" },
    h("rect", { class: "qr-ground", width: side, height: side }),
    h("path", { class: "qr-ink", d: path }),
  );
}

const contextOf = (result: RunResult, store: Store, width: number): Context => ({
  results: [result],
  focus: 0,
  reader: store.state.reader,
  width,
  changed: null,
});

const base64 = (bytes: ArrayBuffer): string => btoa(String.fromCharCode(...new Uint8Array(bytes)));

/** The whole page as one HTML file without script: complete, printable, without requests. */
async function wholePage(result: RunResult, store: Store): Promise<string> {
  const content = toHtml(body(contextOf(result, store, 1100), result.name));
  const hash = base64(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(stylesheet)));
  const policy = `default-src 'none'; style-src 'sha256-${hash}'; img-src data:; base-uri 'none'; form-action 'none'`;
  const title = toHtml(`${result.name} · Sumpwright`);
  return `<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${policy}"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${title}</title><style>${stylesheet}</style></head>\n<body>\n${content}\n</body></html>\n`;
}

/** Print preview. */
function preview(c: Context, title: string, what: string): ComponentChildren {
  const sheet = sheetsOf(c).find(({ id }) => id === what);
  return nodes(
    sheet
      ? markup(
          "article",
          { id: sheet.id, class: "print-sheet print-me print-first", "aria-label": sheet.title },
          markup("h2", {}, sheet.title),
          markup("p", { class: "sheet-of" }, title),
          sheet.contents(c),
        )
      : onPaper(c, title),
  );
}

export function sendScreen(
  store: Store,
  sending: Sending,
  set: (sending: Sending) => void,
  saveScenario: () => void,
  width: number,
): ComponentChildren {
  const { whole, result, history } = store.state;
  const shown = whole ?? result;
  const name = store.nameNow();
  const reachable = publicAddress() !== null;
  const fragment = sending.link.slice(sending.link.indexOf("#"));
  const carried = reachable ? sending.link : fragment;
  return h(
    "section",
    { class: "send", "aria-labelledby": "send-title" },
    h("h2", { id: "send-title", tabIndex: -1 }, "Print and send"),
    h(
      "div",
      { class: "send-ways no-print" },
      h(
        "div",
        {},
        h("h3", {}, "On paper"),
        h("label", { for: "paper" }, "What goes on paper; it is shown below"),
        h(
          "select",
          {
            id: "paper",
            value: sending.what,
            onChange: (e: Event) => set({ ...sending, what: (e.currentTarget as HTMLSelectElement).value }),
          },
          (shown ? sheetsOf(contextOf(shown, store, width)) : []).map(({ id, title }) => h("option", { value: id }, title)),
          h("option", { value: "everything" }, "Everything, about 30 pages"),
        ),
        h("button", { type: "button", disabled: !shown, onClick: () => window.print() }, "Print"),
      ),
      h(
        "div",
        {},
        h("h3", {}, "As a file"),
        h("p", {}, "The page for reading, or the scenario for working on."),
        h(
          "div",
          { class: "actions" },
          h(
            "button",
            {
              type: "button",
              disabled: !shown,
              onClick: () =>
                shown && void wholePage(shown, store).then((html) => saveFile(fileName(name, "html"), html, "text/html")),
            },
            "Save the page (HTML)",
          ),
          h("button", { type: "button", onClick: saveScenario }, "Save the scenario (YAML)"),
        ),
      ),
      h(
        "div",
        {},
        h("h3", {}, "As a link"),
        h("p", {}, "The whole system is in the link itself, behind the #, which browsers do not send to anybody."),
        sending.link === ""
          ? h(
              "button",
              { type: "button", onClick: () => void linkOf(store).then((link) => set({ ...sending, link })) },
              "Make the link",
            )
          : [
              h("label", { for: "link" }, "Link"),
              h("textarea", { id: "link", rows: 4, readOnly: true, value: sending.link }),
              h(
                "button",
                {
                  type: "button",
                  onClick: () =>
                    navigator.clipboard?.writeText(sending.link).then(
                      () => store.set({ notice: "The link is copied." }),
                      () => store.set({ notice: "This browser does not let the page copy: mark the link and copy it." }),
                    ),
                },
                "Copy",
              ),
              !reachable &&
                h(
                  "p",
                  { class: "note" },
                  "This page was opened on this machine: the link works here only. Elsewhere, open the board there and take in the link with “Open a link”.",
                ),
            ],
      ),
      sending.link !== "" &&
        h(
          "div",
          {},
          h("h3", {}, "For the phone at the tank"),
          carried.length <= MOST_QR
            ? [
                code(carried),
                h(
                  "p",
                  { class: "note" },
                  reachable
                    ? "Point the phone's camera at it."
                    : "It holds the part behind the #: read it with the phone and paste it under “Open a link” in the phone's board.",
                ),
              ]
            : h(
                "p",
                {},
                `This system is too long for a code that a camera reads well (${history.text.length} characters): send the link or the file.`,
              ),
        ),
    ),
    h(
      "div",
      { class: "actions no-print" },
      h("button", { type: "button", onClick: () => store.set({ screen: "board" }) }, "Back to the board"),
    ),
    shown
      ? h("div", { class: "whole-page" }, preview(contextOf(shown, store, width), shown.name, sending.what))
      : h("p", {}, "The page is there when the answer is."),
  );
}
