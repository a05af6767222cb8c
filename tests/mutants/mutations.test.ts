// Which numbers are changed, and how.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { constantsOf, mutated, mutationsOf, testsNear } from "./mutations.ts";
import { reasons } from "./reasons.ts";

const TEXT = `const A = 0.0066; // 12
const list = [3.5, -4][0];
const f = (x: number) => x.toFixed(3) + 2;
const q = p(0.75, "1/d", 0.5, 1.0, "m", "s");
`;

it("numbers that a model computes with are found; indices, digits, comments and ranges of parameters are not", () => {
  expect(constantsOf("models/a.ts", TEXT).map(({ text }) => text)).toEqual(["0.0066", "3.5", "4", "0.75"]);
});

it("each is made larger, smaller, and where it has a minus of the other sign; nothing else of the text changes", () => {
  const [a, , four] = constantsOf("models/a.ts", TEXT);
  expect(mutationsOf(a).map(({ how }) => how)).toEqual(["×1.3", "÷1.3"]);
  expect(mutationsOf(four).map(({ how }) => how)).toEqual(["×1.3", "÷1.3", "sign"]);
  expect(mutated(TEXT, { constant: four, how: "sign" })).toBe(TEXT.replace("-4]", "-(-4)]"));
  expect(mutated(TEXT, { constant: a, how: "×1.3" })).toBe(TEXT.replace("0.0066", `(${0.0066 * 1.3})`));
});

const under = (folder: string): string[] =>
  readdirSync(new URL(`../../${folder}`, import.meta.url), { recursive: true, encoding: "utf8" })
    .map((name) => `${folder}/${name.replaceAll("\\", "/")}`)
    .filter((name) => name.endsWith(".ts"));

it("every part of the models has tests near it, and they exist", () => {
  for (const file of under("models"))
    for (const tests of testsNear(file)) {
      expect(tests.length).toBeGreaterThan(0);
      for (const test of tests) expect(existsSync(new URL(`../../${test}`, import.meta.url)), test).toBe(true);
    }
});

it("every reason why no test notices a number belongs to numbers that exist", () => {
  const lines = under("models").flatMap((file) => {
    const text = readFileSync(new URL(`../../${file}`, import.meta.url), "utf8");
    return constantsOf(file, text).map(({ line }) => ({ file, line: text.split("\n")[line - 1].trim() }));
  });
  for (const { file, line, why } of reasons) {
    expect(why.length).toBeGreaterThan(20);
    expect(
      lines.some((at) => file.test(at.file) && line.test(at.line)),
      `${file} ${line}`,
    ).toBe(true);
  }
});
