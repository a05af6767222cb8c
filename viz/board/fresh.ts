// New parts, with what the format asks for and its own examples.
import { dataOf, type Path, type Plain } from "../../scenarios/load/edits.ts";
import { freshSection } from "./core/parts.ts";

/** An example of the format as plain data. */
export const readExample = (example: string): Plain => (dataOf(`value: ${example}`)?.value ?? example) as Plain;

export const freshEntry = (path: Path, data: unknown): Plain => freshSection(path, data, readExample);
