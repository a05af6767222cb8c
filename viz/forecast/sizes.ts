// The body of a sizes page: what works, the table of choices with what limits each, and how it was computed.
import type { SizeRequest } from "../../scenarios/sizing/size-types.ts";
import type { SizeWords } from "../../scenarios/sizing/size-words.ts";
import { capital } from "../../scenarios/text/message.ts";
import { cautionList, filesAndOrigin, titledSection } from "../sections/page-parts.ts";
import { table } from "../sections/table.ts";
import { type Child, h } from "../view/markup.ts";

export interface SizesPage {
  readonly name: string;
  readonly file: string;
  readonly seed: string;
  readonly program: string;
  readonly request: SizeRequest;
  readonly words: SizeWords;
  /** The limits in words, on the scales of the reader. */
  readonly limits: string;
  readonly files: readonly string[];
  /** Number of the row, from 1, whose scenario is written; null where none is. */
  readonly chosen: number | null;
}

export function sizesBody({ name, file, seed, program, request, words, limits, files, chosen }: SizesPage): Child {
  const works = words.rows.some((row) => row.works);
  return [
    h("a", { class: "skip", href: "#answer" }, "Skip to the answer"),
    h(
      "header",
      { class: "title-block" },
      h("div", { class: "words" }, h("p", { class: "wordmark" }, "Sumpwright"), h("h1", {}, `Sizes: ${name}`)),
    ),
    h(
      "main",
      { id: "main" },
      titledSection("answer", "The answer", [
        h(
          "p",
          { class: `trust ${works ? "ring" : "triangle"}` },
          h("b", {}, works ? "Sizes. " : "Nothing works. "),
          words.sentences[0],
        ),
        words.sentences.slice(1).map((text) => h("p", {}, text)),
      ]),
      titledSection("choices", "The choices, and what limits each", [
        table(
          "Choices",
          ["No.", "Works", "Media", "Tower", "Sump", "Pump", "What limits it"],
          words.rows.map((row, n) => [
            String(n + 1),
            row.works ? "yes" : "no",
            row.media,
            row.tower,
            row.sump,
            row.pump,
            `${row.limits.map(capital).join(". ")}.`,
          ]),
          { numbers: [0], sources: [6], caption: "Those that work first, by the length of the sump" },
        ),
        chosen !== null &&
          h(
            "p",
            {},
            `The scenario of number ${chosen} stands beside this page; run it, and look at its faults. Another is written with --choose.`,
          ),
      ]),
      titledSection("limits", "How it is computed, and its limits", [
        h(
          "p",
          {},
          `Asked: ${limits}, in ${Math.round(100 * request.confidence)} tanks of 100. Media: the filter is taken as grown in on all animals, run for six weeks with uncertain inputs, and judged from the third week on. The search uses four fifths of the limits and half the risk; then each row is built again from its own scenario and run with other draws of the inputs and with meals. A start without bacteria is another question: see the command plan.`,
        ),
        h(
          "p",
          {},
          "Sump: its width and height stay as written. It is the shortest in which one level suits both the power cut (break holes blocked, check valve open, 25 mm and a tenth of what came to spare) and the pump (no air, running or at restart), with 20 mm between them for evaporation. Each row is filled 20 mm above the lowest such level, so that the tower stands low. Pump: the smallest round label flow that reaches the asked turnover against this lift and riser. Tower: it grows to the height that there is, then in length.",
        ),
        h(
          "p",
          {},
          "The shape of the sump, chambers in proportion, and overflow and drains are not searched. Whether glass, stand and floor bear the weight is not judged: ask a structural engineer.",
        ),
      ]),
      titledSection("cautions", "Cautions", cautionList()),
    ),
    filesAndOrigin(files, `${file}: random seed ${seed}, ${program}.`),
  ];
}
