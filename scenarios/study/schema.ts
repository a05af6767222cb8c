// The study format, version 1: a base scenario, the variables, the design of points, the recorded numbers.
import * as z from "zod";
import { list, number, oneOf, oneOrMany, section, usually, words } from "../fields/fields.ts";

export const STUDY_VERSION = 1;
export const DESIGNS = ["every combination", "latin hypercube", "sobol points", "sobol indices", "random"] as const;
export const TAKES = ["highest", "lowest", "last"] as const;
export const SPREADS = ["even", "log even", "triangle", "normal", "log normal"] as const;
/** Largest number of points of a study. */
export const MOST_POINTS = 10_000_000;

const value = z.union([z.string(), z.number(), z.boolean()], { error: "write words, a number, true or false here" });
const quantity = (about: string) =>
  z.union([z.string(), z.number()], { error: "write a number with its unit" }).meta({ description: about }).optional();

const variable = section("One thing that differs between the points: a list of values, a range, a spread, or a file.", {
  name: words("what to call it; the key when left out", 60).optional(),
  key: oneOrMany(
    words("the key in the scenario file, such as water.temperature or tank[2].rock", 120),
    "where it is written",
    8,
  ).optional(),
  values: z
    .array(value, { error: "write a list here, for example [drip plate, rotating arm]" })
    .min(1, { error: "the list is empty" })
    .max(1000, { error: "at most 1000 values: put more into a file" })
    .meta({ description: "each value in turn" })
    .optional(),
  from: quantity("low end of a range, with its unit"),
  to: quantity("high end of a range, in the same unit"),
  likely: quantity("peak of a triangle, in the same unit"),
  mean: quantity("mean of a normal spread"),
  sd: quantity("standard deviation of a normal spread, in the same unit"),
  median: quantity("median of a log normal spread"),
  factor: number({ about: "two thirds lie within the median times or divided by this", within: [1, 100] }).optional(),
  spread: oneOf(SPREADS, "how the values lie in the range; read off the other keys when left out").optional(),
  steps: number({ about: "values of a range that every combination takes", within: [2, 1000], whole: true }).optional(),
  file: words("a CSV file beside the study: one row a setting, each column headed by a key", 300).optional(),
});

const design = section("How the points are chosen.", {
  kind: oneOf(DESIGNS, "every combination of lists, files and steps; or points spread over all of them"),
  points: number({ about: "how many points", within: [1, MOST_POINTS], whole: true }).optional(),
  groups: number({
    about: "sobol indices: groups of points, best a power of two; each has as many points as variables and two more",
    within: [16, MOST_POINTS],
    whole: true,
  }).optional(),
});

const record = section("One thing to record: a finding's value, a curve, or the verdict on a fault.", {
  name: words("what to call it", 60).optional(),
  finding: words("which finding, such as ready, nitrite-peak or power-cut", 80).optional(),
  in: words("its unit, where the finding has several", 30).optional(),
  curve: words("which curve, such as tan, no2, no3, o2 or ph", 80).optional(),
  every: words("how far its values lie apart, such as 7 days", 40).optional(),
  take: oneOf(TAKES, "one number of a curve in place of its values").optional(),
  fault: oneOrMany(
    words("which fault, such as break hole blocked", 60),
    "a fault, or two at once; none for the plain power cut",
    2,
  ).optional(),
});

export const studySchema = section("A question asked of many runs.", {
  "sumpwright study": z
    .literal(STUDY_VERSION, {
      error: ({ input }) =>
        input === undefined
          ? "missing: the first line must be sumpwright study: 1"
          : "only version 1 of the format is known: write sumpwright study: 1",
    })
    .meta({ description: "version of the format" }),
  name: words("what to call it", 120),
  question: words("what is to be found out, in your words", 300).optional(),
  notes: words("anything worth keeping with it", 4000).optional(),
  scenario: oneOrMany(
    words("path of a scenario file, from the study's folder", 300),
    "the scenario that is varied, or several",
    64,
  ),
  variables: list(variable, "what differs between the points", 32),
  design,
  seed: usually(words("seed of all chance: the same seed gives the same bytes", 60), "1", "any will do"),
  record: list(record, "what is recorded of every point", 64).min(1, { error: "nothing is recorded" }),
  rank: section("What makes a point good.", {
    by: words("name of something recorded", 60),
    best: oneOf(["lowest", "highest"], "which values are good"),
  }).optional(),
  map: section("The two variables of the outcome map.", {
    across: words("name of a variable", 60),
    up: words("name of a variable", 60),
    of: words("name of something recorded; what the rank goes by when left out", 60).optional(),
  }).optional(),
});

export type StudyText = z.output<typeof studySchema>;
export type VariableText = StudyText["variables"][number];

/** The texts of a study, which identify it and are sent to workers. They contain nothing executable. */
export const bundleSchema = z.strictObject({
  file: z.string().max(1000),
  text: z.string().max(1_000_000),
  /** Scenarios and tables, by the path in the study. */
  files: z.record(z.string().max(300), z.string().max(20_000_000)),
});
export type StudyBundle = z.output<typeof bundleSchema>;

/** A recorded number: its name, its unit, and the source of its value. */
export const columnSchema = z.strictObject({
  name: z.string().max(200),
  unit: z.string().max(60),
  /** The words for the codes 0, 1, 2 ...; null for plain numbers. */
  labels: z.array(z.string().max(60)).nullable(),
  from: z.discriminatedUnion("is", [
    z.strictObject({
      is: z.literal("finding"),
      id: z.string().max(100),
      /**
       * Index of the finder that gives it; null when the unchanged scenario has no such finding, so that all finders
       * are called.
       */
      finder: z.number().int().min(0).nullable(),
      part: z.enum(["value", "level"]),
    }),
    z.strictObject({ is: z.literal("curve"), series: z.string().max(100), at: z.union([z.enum(TAKES), z.number().min(0)]) }),
    z.strictObject({
      is: z.literal("fault"),
      faults: z.array(z.string().max(60)).max(2),
      part: z.enum(["verdict", "margin", "floor"]),
    }),
  ]),
});
export type Column = z.output<typeof columnSchema>;

/** Everything a worker needs: plain data, checked again by the receiver. */
export const setupSchema = z.strictObject({ bundle: bundleSchema, columns: z.array(columnSchema).max(5000) });
export type StudySetup = z.output<typeof setupSchema>;
