// A change of the wetted share of a tower's media.
import { share, words } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

export const wetting = eventFormat({
  name: "wetting",
  about: "The spread of water over the media changes.",
  keys: {
    tower: words("name of the tower or closed filter; all when left out", 40, false, "tower").optional(),
    wetted: share({
      about: "wetted share of the media from now on; computed when left out",
      within: ["1 %", "100 %"],
      example: "40 %",
    }).optional(),
  },
  build: (e) => ({
    body: { kind: "wetting", tower: e.tower ?? null, wettedShare: e.wetted ?? null },
    label: e.wetted === undefined ? "water spread as built" : `${format.share(e.wetted)} of the media wetted`,
  }),
  inWords: (e) => (e.wetted ? `Only ${e.wetted} of the media wetted from now on` : "The wetting of the media as computed again"),
  advice:
    "Level the drip plate and clean its holes: dry media do nothing. Newly wetted media take one to two weeks to grow over.",
});
