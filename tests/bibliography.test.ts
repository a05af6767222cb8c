import { readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { bibliography } from "../models/bibliography.ts";

const models = join(dirname(dirname(fileURLToPath(import.meta.url))), "models");
const NAMES = String.raw`\p{Lu}[\p{L}'-]+(?:(?:, | & | and )\p{Lu}[\p{L}-]+)*(?: et al\.)?`;
const CITATION = new RegExp(`(${NAMES})(?:'s)? \\(?((?:18|19|20)\\d\\d)\\b(?! °| K|\\s*[*/])`, "gu");
/** Words before a year that are not authors. */
const NO_AUTHORS = /^(?:Below|From|Re|Reynolds|Since|About|Over|Under|Until|Before|After|The|In|At)$/;

/** First author and year of every source cited in the models, with the files. */
function cited(): Map<string, string> {
  const found = new Map<string, string>();
  for (const name of readdirSync(models, { recursive: true, encoding: "utf8" })) {
    if (!name.endsWith(".ts") || name === "bibliography.ts") continue;
    // A citation may continue on the next comment line.
    const text = readFileSync(join(models, name), "utf8").replace(/\s*\n\s*(?:\*|\/\/) ?/g, " ");
    for (const [, authors, year] of text.matchAll(CITATION)) {
      const first = authors!.split(/, | & | and | et al/)[0]!.replace(/'s$/, "");
      if (!NO_AUTHORS.test(first)) found.set(`${first} ${year}`, name);
    }
  }
  return found;
}

test("every author and year cited in the models is in the bibliography", () => {
  const missing = [...cited()].filter(([key]) => !(key in bibliography)).map(([key, file]) => `${key} (${file})`);
  expect(missing).toEqual([]);
});

test("every entry of the bibliography is cited in the models", () => {
  const named = cited();
  expect(Object.keys(bibliography).filter((key) => !named.has(key))).toEqual([]);
});

test("every entry names authors, subject and place of publication", () => {
  for (const [key, entry] of Object.entries(bibliography)) {
    expect(entry.length, key).toBeGreaterThan(30);
    expect(entry, key).toContain(key.match(/\d{4}$/)![0]);
  }
});
