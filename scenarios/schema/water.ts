// Scenario format of test kits, tap water and starting water.
import { derived, list, number, oneOf, salinity, section, temperature, usually } from "../fields/fields.ts";
import { ammonia, chloride, kh, nitrate, nitrite, ph, tapFields } from "../fields/tap-water.ts";
import { AMMONIA_BASES, NITRATE_BASES, NITRITE_BASES } from "../text/nitrogen-basis.ts";
import { COMMON } from "../text/reasons.ts";

const kitSteps = (about: string) =>
  list(number({ about: "mg/L as printed", within: [0, 1000] }), about, 20).min(2, { error: "at least two steps" });

export const kit = section("What the leaflets of the test kits print.", {
  ammonia: usually(
    oneOf(AMMONIA_BASES, "basis of the ammonia scale"),
    "unknown",
    "not given: both are run, and the band widened",
  ),
  nitrite: usually(
    oneOf(NITRITE_BASES, "basis of the nitrite scale"),
    "unknown",
    "not given: both are run, and the band widened",
  ),
  nitrate: usually(
    oneOf(NITRATE_BASES, "basis of the nitrate scale"),
    "unknown",
    "not given: both are run, and the band widened",
  ),
  "ammonia steps": usually(kitSteps("steps of the ammonia scale, the last is its ceiling"), [0, 0.25, 0.5, 1, 2, 4, 8], COMMON),
  "nitrite steps": usually(kitSteps("steps of the nitrite scale, the last is its ceiling"), [0, 0.25, 0.5, 1, 2, 5], COMMON),
  "nitrate steps": usually(kitSteps("steps of the nitrate scale, the last is its ceiling"), [0, 5, 10, 20, 40, 80, 160], COMMON),
});

export const tap = section("The water used for filling and changes; a marine system salts it.", tapFields);

export const water = section("The water at the start.", {
  temperature: usually(temperature({ about: "of the water", within: ["2 C", "38 C"], usual: ["16 C", "30 C"] }), "25 °C", COMMON),
  salinity: usually(
    salinity({ about: "0 ppt is fresh water, 35 ppt is sea water", within: ["0 ppt", "45 ppt"] }),
    "0 ppt",
    "fresh water",
  ),
  ph: derived(ph("pH at the start"), "as the tap; 8.2 in sea water"),
  kh: derived(kh("alkalinity at the start"), "as the tap; 8 dKH in sea water"),
  ammonia: derived(ammonia("ammonia at the start"), "as the tap"),
  nitrite: derived(nitrite("nitrite at the start"), "as the tap"),
  nitrate: derived(nitrate("nitrate at the start"), "as the tap"),
  chloride: derived(chloride("chloride at the start"), "as the tap and the salt"),
});
