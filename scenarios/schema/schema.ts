// The scenario format, version 1: the single definition of its types, checks and published JSON Schema.
import * as z from "zod";
import { derived, oneOf, section, words } from "../fields/fields.ts";
import { managementFields } from "./management.ts";
import { rigFields } from "./rig.ts";

export const FORMAT_VERSION = 1;

/** A whole scenario file. Input: text with units. Output: numbers in the internal units given at `Kind`. */
export const scenarioSchema = section("A wet-dry filter with its sump, what lives on it, and a question.", {
  sumpwright: z
    .literal(FORMAT_VERSION, {
      error: ({ input }) =>
        input === undefined
          ? "missing: the first line must be sumpwright: 1"
          : typeof input === "string" && input.trim() === String(FORMAT_VERSION)
            ? "take the quotes away: write sumpwright: 1"
            : "only version 1 of the format is known: write sumpwright: 1",
    })
    .meta({ description: "version of the format" }),
  name: words("what to call it", 120, false, "My first tank"),
  question: words("what you want to find out, in your words", 300, true, "When may the fish go in?").optional(),
  notes: words("anything worth keeping with it", 4000, true, "pump from the old tank").optional(),
  firm: section("Who made it: printed at the head of the page and on the summary.", {
    name: words("name of the firm or the club", 120, false, "Brook Street Aquatics"),
    contact: words("telephone, address or web page, printed after the name", 160, false, "01632 960123").optional(),
    logo: words("an image file beside the scenario, PNG, JPEG or WebP, at most 200 kB", 200, false, "logo.png").optional(),
  }).optional(),
  units: derived(oneOf(["metric", "US"], "units that the page shows first"), "the units most used in this file"),
  ...rigFields,
  ...managementFields,
});

/** A checked scenario: plain data in internal units, with static defaults. */
export type Scenario = z.output<typeof scenarioSchema>;
/** A scenario as written. */
export type ScenarioText = z.input<typeof scenarioSchema>;
