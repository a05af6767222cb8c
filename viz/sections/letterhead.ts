// The line over a title: the program's mark, and the firm's where the scenario names one.
import type { RunResult } from "../../scenarios/result/result.ts";
import { h, type Markup } from "../view/markup.ts";

export const wordmark = (): Markup => h("p", { class: "wordmark" }, "Sumpwright");

export const letterhead = ({ firm }: Pick<RunResult, "firm">): Markup =>
  h(
    "div",
    { class: "marks-line" },
    wordmark(),
    firm &&
      h(
        "p",
        { class: "firm" },
        firm.logo !== null && h("img", { src: firm.logo, alt: "", class: "firm-logo" }),
        h("span", {}, firm.name),
        firm.contact !== "" && h("span", { class: "firm-contact" }, firm.contact),
      ),
  );
