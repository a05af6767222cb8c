// Prefilter pads that clog or are replaced.
import { share } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

export const padClogs = eventFormat(
  "pad clogs",
  "The prefilter clogs.",
  { blinded: share({ about: "clogged share", within: ["0 %", "100 %"], example: "70 %" }) },
  (e) => ({ body: { kind: "pad clogs", blindedShare: e.blinded }, label: `pad ${format.share(e.blinded)} clogged` }),
);

export const changePad = eventFormat("change pad", "A new prefilter pad.", {}, () => ({
  body: { kind: "change pad" },
  label: "new pad",
}));
