// New parts, with the required keys and the examples of the format.
import { dataOf, type Path, type Plain } from "../../scenarios/load/edits.ts";
import { freshSection } from "./core/parts.ts";

/** An example of the format, parsed to plain data. */
export const readExample = (example: string): Plain => (dataOf(`value: ${example}`)?.value ?? example) as Plain;

export const freshEntry = (path: Path, data: unknown): Plain => freshSection(path, data, readExample);
