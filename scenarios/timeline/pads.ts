// Prefilter pads that clog or are replaced.
import { share } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

export const padClogs = eventFormat({
  name: "pad clogs",
  about: "The prefilter clogs.",
  keys: { blinded: share({ about: "clogged share", within: ["0 %", "100 %"], example: "70 %" }) },
  build: (e) => ({ body: { kind: "pad clogs", blindedShare: e.blinded }, label: `pad ${format.share(e.blinded)} clogged` }),
  inWords: (e) => `The pad is clogged to ${e.blinded ?? "some"}`,
  advice: "Change the pad: the bacteria behind it are still there, so it helps the same day.",
});

export const changePad = eventFormat({
  name: "change pad",
  about: "A new prefilter pad.",
  keys: {},
  build: () => ({
    body: { kind: "change pad" },
    label: "new pad",
  }),
  inWords: () => "A new pad",
});
