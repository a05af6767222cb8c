// The scenario format as JSON Schema, for completion and checks in an editor.
import * as z from "zod";
import { scenarioSchema } from "./schema.ts";

/** JSON Schema (draft 7, which editors know best) of what one may write in a scenario file. */
export const scenarioJsonSchema = (): object => z.toJSONSchema(scenarioSchema, { io: "input", target: "draft-7" });
