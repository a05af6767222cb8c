// Fields of water quality, and the keys of tap water.
import { COMMON } from "../text/reasons.ts";
import { alkalinity, concentration, derived, number, temperature, usually, yesNo } from "./fields.ts";

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
