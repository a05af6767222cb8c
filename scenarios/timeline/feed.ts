// A change of the feeding plan.
import { foodPerDay, share, usually, words } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

export const feed = eventFormat({
  name: "feed",
  about: "A change of the feeding plan.",
  keys: {
    group: words("name of the group; all when left out", 60, false, "tetras").optional(),
    plan: usually(
      share({ about: "share of the planned food from now on; 0 % is a fast", within: ["0 %", "5000 %"] }),
      "100 %",
      "as planned",
    ),
    extra: usually(foodPerDay("extra food that nobody eats, until the next feed event", "5 g/day"), "0 g/day", "none given"),
  },
  build: (e) => ({
    body: { kind: "feed", group: e.group ?? null, factor: e.plan, extraGPerDay: e.extra },
    label:
      e.plan === 0 && e.extra === 0
        ? "no food"
        : `food at ${format.share(e.plan)}${e.extra > 0 ? ` and ${format.plain(e.extra)} g/day too much` : ""}`,
  }),
  inWords: (e) =>
    `${e.group ?? "All animals"} get ${e.plan ?? "100 %"} of their food${e.extra ? `, and ${e.extra} that nobody eats` : ""}`,
});
