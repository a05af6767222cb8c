// Replaces part of the water by tap water.
import { section, share } from "../fields/fields.ts";
import { tapFields } from "../fields/tap-water.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

export const waterChange = eventFormat({
  name: "water change",
  about: "A water change: part of the water is replaced from the tap.",
  keys: {
    share: share({ about: "share of all the water", within: ["0.1 %", "100 %"], usual: ["1 %", "60 %"], example: "30 %" }),
    tap: section("Water that differs from the tap.", tapFields).optional(),
  },
  build: (e, { tap }, key) => ({
    body: { kind: "water change", share: e.share, tap: tap(e.tap, `${key}.tap`) },
    label: `${format.share(e.share)} water change`,
  }),
  inWords: (e) => `${e.share ?? "Some"} of the water changed`,
  advice: "Treat chloramine before the water goes in. The ammonia in it stays until the filter has taken it up.",
});
