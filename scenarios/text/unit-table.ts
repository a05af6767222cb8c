// Units and their exact factors to metres, grams and seconds. Definitions: SI brochure; NIST SP 811 appendix B
// (inch, pound, US gallon of 231 cubic inches); UK Weights and Measures Act 1985 (gallon of 4.54609 L).
import { cube } from "../../sim/elementary.ts";

/** Exponents of metre, gram and second. */
export type Dimensions = readonly [metre: number, gram: number, second: number];

export interface Unit {
  readonly factor: number;
  readonly dimensions: Dimensions;
  readonly system: "metric" | "US" | "both";
}

const INCH = 0.0254;
const FOOT = 12 * INCH;
const US_GALLON = 231 * cube(INCH);
const IMPERIAL_GALLON = 4.54609e-3;
const MINUTE = 60;
const HOUR = 3600;
const DAY = 86400;
/** A pinch of dry food between two fingers. Modelling assumption: 0.1 g; users can weigh ten pinches instead. */
export const PINCH_G = 0.1;

const LENGTH: Dimensions = [1, 0, 0];
const VOLUME: Dimensions = [3, 0, 0];
const MASS: Dimensions = [0, 1, 0];
const TIME: Dimensions = [0, 0, 1];
const FLOW: Dimensions = [3, 0, -1];
const ENERGY: Dimensions = [2, 1, -2];
/** kg m2/s3, with grams as the unit of mass. */
const POWER: Dimensions = [2, 1, -3];
const TURNING: Dimensions = [0, 0, -1];

const table = new Map<string, Unit>();
function define(names: string, factor: number, dimensions: Dimensions, system: Unit["system"] = "metric"): void {
  for (const name of names.split(" ")) table.set(name.replace("_", " "), { factor, dimensions, system });
}

define("mm millimetre millimetres millimeter millimeters", 1e-3, LENGTH);
define("cm centimetre centimetres centimeter centimeters", 1e-2, LENGTH);
define("m metre metres meter meters", 1, LENGTH);
define('in inch inches "', INCH, LENGTH, "US");
define("ft foot feet '", FOOT, LENGTH, "US");
define("ml millilitre millilitres milliliter milliliters", 1e-6, VOLUME);
define("l litre litres liter liters", 1e-3, VOLUME);
define("us_gal us_gallon us_gallons", US_GALLON, VOLUME, "US");
define("imp_gal imp_gallon imp_gallons", IMPERIAL_GALLON, VOLUME);
define("lph", 1e-3 / HOUR, FLOW);
define("lpm", 1e-3 / MINUTE, FLOW);
define("us_gph", US_GALLON / HOUR, FLOW, "US");
define("us_gpm", US_GALLON / MINUTE, FLOW, "US");
define("us_gpd", US_GALLON / DAY, FLOW, "US");
define("imp_gph", IMPERIAL_GALLON / HOUR, FLOW);
define("imp_gpm", IMPERIAL_GALLON / MINUTE, FLOW);
define("cfm", cube(FOOT) / MINUTE, FLOW, "US");
define("ug µg", 1e-6, MASS);
define("mg", 1e-3, MASS);
define("g gram grams", 1, MASS);
define("kg", 1e3, MASS);
define("lb lbs pound pounds", 453.59237, MASS, "US");
define("oz ounce ounces", 453.59237 / 16, MASS, "US");
define("pinch pinches", PINCH_G, MASS, "both");
define("s sec second seconds", 1, TIME, "both");
define("min minute minutes", MINUTE, TIME, "both");
define("h hr hrs hour hours", HOUR, TIME, "both");
define("d day days", DAY, TIME, "both");
define("week weeks", 7 * DAY, TIME, "both");
define("w watt watts", 1e3, POWER, "both");
define("kw", 1e6, POWER, "both");
define("wh", 1e3 * HOUR, ENERGY, "both");
define("kwh", 1e6 * HOUR, ENERGY, "both");
define("rpm", 1 / MINUTE, TURNING, "both");

/** Names of all units in lower case; US and imperial gallons are two words. */
export const unitNames: readonly string[] = [...table.keys()];

/** The unit with a lower-case name; undefined when there is none. */
export const unitNamed = (name: string): Unit | undefined => table.get(name);
