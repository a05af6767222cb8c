// Scenario format of test kits, tap water and starting water.
import { AMMONIA_BASES, NITRATE_BASES, NITRITE_BASES } from "../text/nitrogen-basis.ts";
import { COMMON } from "../text/reasons.ts";
import {
  alkalinity,
  concentration,
  derived,
  list,
  number,
  oneOf,
  salinity,
  section,
  temperature,
  usually,
  yesNo,
} from "./fields.ts";

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

export const ph = (about: string, example = 7.4) => number({ about, within: [3, 11], usual: [6, 8.7], example });
export const ammonia = (about: string) =>
  concentration("ammonia", { about, within: ["0 mg/L", "200 mg/L"], usual: ["0 mg/L", "10 mg/L"] });
export const nitrite = (about: string) =>
  concentration("nitrite", { about, within: ["0 mg/L", "500 mg/L"], usual: ["0 mg/L", "50 mg/L"] });
export const nitrate = (about: string) =>
  concentration("nitrate", { about, within: ["0 mg/L", "5000 mg/L"], usual: ["0 mg/L", "300 mg/L"] });
export const kh = (about: string) =>
  alkalinity({ about, within: ["0 dKH", "60 dKH"], usual: ["1 dKH", "18 dKH"], example: "6 dKH" });
export const chloride = (about: string) =>
  concentration("chloride", { about, within: ["0 mg/L", "25000 mg/L"], example: "100 mg/L" });

export const tapFields = {
  ph: derived(ph("pH of the tap water after standing, salted if the system is", 7.6), "7.6, salted 8.2"),
  kh: derived(kh("alkalinity of the tap water, salted if the system is"), "6 dKH, salted 8 dKH"),
  temperature: derived(
    temperature({ about: "temperature of the water as it goes in", within: ["0 C", "40 C"], example: "18 C" }),
    "as the tank",
  ),
  ammonia: usually(ammonia("ammonia in the tap water"), "0 mg/L as N", COMMON),
  nitrite: usually(nitrite("nitrite in the tap water"), "0 mg/L as N", COMMON),
  nitrate: usually(nitrate("nitrate in the tap water"), "2 mg/L as N", COMMON),
  chloride: usually(chloride("chloride in the tap water"), "20 mg/L as Cl", COMMON),
  chloramine: usually(
    concentration("chloramine", {
      about: "chloramine in the tap water",
      within: ["0 mg/L", "8 mg/L"],
      usual: ["0 mg/L", "4 mg/L"],
    }),
    "0 mg/L as Cl2",
    "none given",
  ),
  conditioner: usually(yesNo("chlorine and chloramine are neutralised before use"), true, COMMON),
};
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
