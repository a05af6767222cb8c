// Which numbers are changed, and how.
import { expect, it } from "vitest";
import { constantsOf, mutated, mutationsOf, testsNear } from "./mutations.ts";

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

it("every part of the models has tests near it", () => {
  for (const file of ["models/heat/step.ts", "models/water/ph.ts", "models/rig.ts"])
    expect(testsNear(file).length).toBeGreaterThan(0);
});
