// The scenario format as JSON Schema, for completion and checks in an editor.
import * as z from "zod";
import { scenarioSchema } from "./schema.ts";

/** Metadata for our own use; editors understand descriptions, defaults and examples. */
const OWN = ["example", "likely", "usual", "usualWords", "derived", "onlyWith", "why"] as const;

/** JSON Schema (draft 7, which editors support best) of a scenario file. */
export const scenarioJsonSchema = (): object =>
  z.toJSONSchema(scenarioSchema, {
    io: "input",
    target: "draft-7",
    override: ({ jsonSchema }) => {
      const { example, likely } = jsonSchema as { readonly example?: string; readonly likely?: string };
      for (const key of OWN) delete jsonSchema[key];
      const shown = example ?? likely;
      if (shown !== undefined) jsonSchema.examples = [shown];
    },
  });
