// Media that are rinsed or replaced.
import { share, words } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

const tower = words("name of the tower or closed filter; all when left out", 40, false, "tower").optional();

export const rinseMedia = eventFormat(
  "rinse media",
  "Media rinsed.",
  { tower, lost: share({ about: "share of the bacteria on them that is lost", within: ["0 %", "100 %"] }) },
  (e) => ({ body: { kind: "rinse media", where: e.tower ?? null, lostShare: e.lost }, label: "media rinsed" }),
);

export const replaceMedia = eventFormat(
  "replace media",
  "Media replaced by new.",
  { tower, share: share({ about: "share of the media", within: ["1 %", "100 %"], example: "50 %" }) },
  (e) => ({
    body: { kind: "replace media", where: e.tower ?? null, share: e.share },
    label: `${format.share(e.share)} of the media replaced`,
  }),
);
