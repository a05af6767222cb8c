// Media that are rinsed or replaced.
import { share, words } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

const tower = words("name of the tower or closed filter; all when left out", 40, false, "tower").optional();

export const rinseMedia = eventFormat({
  name: "rinse media",
  about: "Media rinsed.",
  keys: { tower, lost: share({ about: "share of the bacteria on them that is lost", within: ["0 %", "100 %"] }) },
  build: (e) => ({ body: { kind: "rinse media", where: e.tower ?? null, lostShare: e.lost }, label: "media rinsed" }),
  inWords: (e) => `Media rinsed${e.tower ? ` in ${e.tower}` : ""}, ${e.lost ?? "some"} of the bacteria lost`,
  advice: "Rinse media in tank water, never under the tap, one part at a time, and feed little until both read zero.",
});

export const replaceMedia = eventFormat({
  name: "replace media",
  about: "Media replaced by new.",
  keys: { tower, share: share({ about: "share of the media", within: ["1 %", "100 %"], example: "50 %" }) },
  build: (e) => ({
    body: { kind: "replace media", where: e.tower ?? null, share: e.share },
    label: `${format.share(e.share)} of the media replaced`,
  }),
  inWords: (e) => `${e.share ?? "Some"} of the media replaced${e.tower ? ` in ${e.tower}` : ""}`,
  advice: "Replace one part at a time, weeks apart; what stays seeds the new part.",
});
