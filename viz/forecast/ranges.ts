// Early, likely and late of every answer, as a table.
import type { Posterior } from "../../scenarios/forecast/posterior.ts";
import { table } from "../sections/table.ts";
import type { Markup } from "../view/markup.ts";

/** Every answer before and after the readings. */
export function ranges({ answers, summary }: Posterior): Markup {
  const updated = summary.readings > 0;
  return table(
    "Early, likely and late",
    ["Answer", ...(updated ? ["Before the readings"] : []), updated ? "After them" : "Early · likely · late"],
    answers.map(({ title, before, after }) => [title, ...(updated ? [before] : []), after]),
    { caption: "Early · likely · late: a tenth, a half and nine tenths of the runs lie below" },
  );
}
