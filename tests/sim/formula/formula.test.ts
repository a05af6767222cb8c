import { expect, test } from "vitest";
import { exp, log } from "../../../sim/elementary.ts";
import { Formulas } from "../../../sim/formula/compile.ts";
import { Graph, type Program, type Ref } from "../../../sim/formula/graph.ts";
import fc from "../../fast-check.ts";

const IN = 0;
const OUT = 1;
const OUT_AT = 1024;

/** Runs one program that writes these nodes, in both ways, on the same inputs. */
function bothWays(graph: Graph, nodes: readonly Ref[], inputs: readonly number[]): [compiled: number[], script: number[]] {
  const program: Program = {
    name: "f",
    bases: 2,
    outputs: nodes.map((node, place) => ({ node, base: OUT, place, indirect: false })),
  };
  const formulas = new Formulas(graph, [program]);
  const memory = new WebAssembly.Memory({ initial: 1 });
  return [
    { memory, buffer: memory.buffer },
    { memory: null, buffer: new ArrayBuffer(65_536) },
  ].map((place) => {
    new Float64Array(place.buffer).set(inputs);
    formulas.over(place).f!(IN, OUT_AT);
    return [...new Float64Array(place.buffer, OUT_AT, nodes.length)];
  }) as [number[], number[]];
}

const anyNumber = fc.oneof(
  fc.double(),
  fc.double({ min: -800, max: 800, noNaN: true }),
  fc.constantFrom(0, -0, 0.5, 709.78, 710.1, -708.5, -745.9, -746, -750, Number.NaN),
);

test("exp and log of compiled formulas have the bits of those of script", () => {
  const graph = new Graph();
  const outputs = [graph.exp(graph.load(IN, 0)), graph.log(graph.load(IN, 1))].map((node, place) => ({
    node,
    base: OUT,
    place,
    indirect: false,
  }));
  const memory = new WebAssembly.Memory({ initial: 1 });
  const { f } = new Formulas(graph, [{ name: "f", bases: 2, outputs }]).over({ memory, buffer: memory.buffer });
  const inputs = new Float64Array(memory.buffer, IN, 2);
  const found = new Float64Array(memory.buffer, OUT_AT, 2);
  fc.assert(
    fc.property(anyNumber, fc.double({ min: 1, noNaN: true }), (x, more) => {
      inputs.set([x, more]);
      found.fill(0);
      f!(IN, OUT_AT);
      // Adding to the 0 that was there makes a 0 of a -0.
      expect([...found]).toEqual([0 + exp(x), 0 + log(more)]);
    }),
    { numRuns: 20_000 },
  );
});

/** A random formula of three inputs, made by following a list of choices. */
function randomFormula(graph: Graph, choices: readonly (readonly [number, number, number, number])[]): Ref {
  const nodes: Ref[] = [graph.load(IN, 0), graph.load(IN, 1), graph.load(IN, 2), graph.constant(0.7)];
  const pick = (n: number): Ref => nodes[n % nodes.length]!;
  for (const [kind, a, b, c] of choices) {
    const [x, y, z] = [pick(a), pick(b), pick(c)];
    const one = (): Ref => graph.add(graph.one, graph.size(x));
    const made = [
      () => graph.add(x, y),
      () => graph.subtract(x, y),
      () => graph.multiply(x, y),
      () => graph.divide(x, graph.add(graph.one, graph.multiply(y, y))),
      () => graph.root(one()),
      () => graph.log(one()),
      () => graph.exp(graph.divide(x, one())),
      () => graph.most(x, y),
      () => graph.choose(x, y, z),
    ];
    nodes.push(made[kind % made.length]!());
  }
  return nodes[nodes.length - 1]!;
}

const step = fc.tuple(fc.nat(8), fc.nat(50), fc.nat(50), fc.nat(50));

test("WebAssembly and script give the same bits, of a formula and of its derivatives", () => {
  const input = fc.double({ min: -3, max: 3, noNaN: true });
  fc.assert(
    fc.property(fc.array(step, { minLength: 3, maxLength: 25 }), input, input, input, (choices, x, y, z) => {
      const graph = new Graph();
      const of = randomFormula(graph, choices);
      const nodes = [of, ...[0, 1, 2].map((place) => graph.derivative(of, graph.load(IN, place)))];
      const [compiled, script] = bothWays(graph, nodes, [x, y, z]);
      expect(compiled).toEqual(script);
    }),
    { numRuns: 500 },
  );
});

test("derivatives are those of calculus", () => {
  const graph = new Graph();
  const [x, y] = [graph.load(IN, 0), graph.load(IN, 1)];
  const nodes = [
    graph.derivative(graph.multiply(graph.exp(graph.multiply(x, y)), graph.root(x)), x),
    graph.derivative(graph.divide(graph.log(x), graph.add(y, x)), x),
    graph.derivative(graph.size(graph.subtract(graph.zero, x)), x),
    graph.derivative(graph.most(x, y), y),
    graph.derivative(graph.choose(graph.subtract(y, x), x, graph.multiply(x, x)), x),
  ];
  const [found] = bothWays(graph, nodes, [1.7, 0.3]);
  const expected = [
    Math.exp(1.7 * 0.3) * (0.3 * Math.sqrt(1.7) + 0.5 / Math.sqrt(1.7)),
    1 / 1.7 / 2 - Math.log(1.7) / 4,
    1,
    0,
    2 * 1.7,
  ];
  for (const [i, value] of expected.entries()) expect(found[i]).toBeCloseTo(value, 13);
});
