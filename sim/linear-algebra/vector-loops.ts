// The inner loops that dominate the cost of a step: WebAssembly where it may be compiled, JavaScript elsewhere.

import { type Code, F64, type FunctionCode, I32, moduleBytes, PAIR, wasm } from "../webassembly/assembler.ts";

/**
 * A block of memory and loops over it. WebAssembly and JavaScript do the same operations in the same order and give
 * the same bits; WebAssembly takes about half the time.
 */
export interface VectorLoops {
  /** The memory itself: WebAssembly's, or null where it is a plain buffer. */
  readonly memory: WebAssembly.Memory | null;
  readonly buffer: ArrayBufferLike;
  /** A new array of zeros in this memory. */
  floats(length: number): Float64Array;
  integers(length: number): Int32Array;
  /**
   * Runs the operations a -= b * c stored between the byte addresses `from` and `to`. Each operation is three byte
   * addresses (int32) of float64 values.
   */
  run(from: number, to: number): void;
  /**
   * out_i += (weight * scale) x_i, for `out` between two byte addresses, and for each term between two others: a weight
   * (float64) and the byte address of x (int32), 16 bytes each. It works on pairs of components, so both arrays must
   * come from `floats`.
   */
  combine(out: number, outEnd: number, terms: number, termsEnd: number, scale: number): void;
  /** The three parts of a factorisation; `SparseLU` describes their tables. */
  assemble(
    values: number,
    valuesEnd: number,
    scatter: number,
    scatterEnd: number,
    a: number,
    diagonals: number,
    diagonalsEnd: number,
    shift: number,
  ): void;
  factorise(table: number, tableEnd: number, smallest: number): number;
  solve(
    forward: number,
    forwardEnd: number,
    x: number,
    xEnd: number,
    inverses: number,
    backward: number,
    backwardEnd: number,
  ): void;
}

type Exports = Pick<VectorLoops, "run" | "combine" | "assemble" | "factorise" | "solve">;

const PAGE = 65_536;
/** Arrays begin at whole pairs of float64, so that a loop over pairs may run beyond an odd end [bytes]. */
const ALIGNMENT = 16;

const { get, set, load, store, loadWord, word, wordAdd, wordLess, f64 } = wasm;
/** [at] = value */
const put = (at: Code, value: Code): Code => store(at, 0, value);
const step = (local: number, bytes: number): Code => set(local, wordAdd(get(local), word(bytes)));
const until = (local: number, end: Code, body: Code): Code => wasm.whileTrue(wordLess(get(local), end), body);

/** run(p, end): [p] is replaced by [[p]] - [[p + 4]] * [[p + 8]], and so on. */
function runCode(): FunctionCode {
  const [p, end] = [0, 1];
  const at = (offset: number): Code => load(loadWord(get(p), offset), 0);
  const body = [...put(loadWord(get(p), 0), wasm.subtract(at(0), wasm.multiply(at(4), at(8)))), ...step(p, 12)];
  return { name: "run", parameters: [I32, I32], results: [], locals: [], code: until(p, get(end), body) };
}

/** combine(out, end, terms, termsEnd, scale): out_i += (weight * scale) x_i for each term, two components at a time. */
function combineCode(): FunctionCode {
  const [out, end, t, tEnd, scale, x, o, factor] = [0, 1, 2, 3, 4, 5, 6, 7];
  const inner = [
    ...wasm.storePair(get(o), wasm.pairAdd(wasm.loadPair(get(o)), wasm.pairMultiply(get(factor), wasm.loadPair(get(x))))),
    ...step(o, 16),
    ...step(x, 16),
  ];
  const body = [
    ...set(factor, wasm.pair(wasm.multiply(load(get(t), 0), get(scale)))),
    ...set(x, loadWord(get(t), 8)),
    ...set(o, get(out)),
    ...until(o, get(end), inner),
    ...step(t, 16),
  ];
  return {
    name: "combine",
    parameters: [I32, I32, I32, I32, F64],
    results: [],
    locals: [
      [2, I32],
      [1, PAIR],
    ],
    code: until(t, get(tEnd), body),
  };
}

/**
 * assemble(values, end, scatter, scatterEnd, a, diagonals, diagonalsEnd, shift): stores shift * I - A in the positions
 * of the factors.
 */
function assembleCode(): FunctionCode {
  const [v, end, s, sEnd, a, d, dEnd, shift] = [0, 1, 2, 3, 4, 5, 6, 7];
  const code = [
    ...until(v, get(end), [...put(get(v), f64(0)), ...step(v, 8)]),
    ...until(s, get(sEnd), [...put(loadWord(get(s), 0), wasm.negative(load(get(a), 0))), ...step(s, 4), ...step(a, 8)]),
    ...until(d, get(dEnd), [...put(loadWord(get(d), 0), wasm.add(load(loadWord(get(d), 0), 0), get(shift))), ...step(d, 4)]),
  ];
  return { name: "assemble", parameters: [I32, I32, I32, I32, I32, I32, I32, F64], results: [], locals: [], code };
}

/** factorise(t, end, smallest): see `SparseLU` for the table. @returns the number of the row whose pivot is unusable, or -1 */
function factoriseCode(): FunctionCode {
  const [t, end, smallest, row, lefts, left, q, e, inverses, m, pivot, inverse, largest, value] = [
    0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13,
  ];
  const update = [
    ...put(loadWord(get(t), 0), wasm.subtract(load(loadWord(get(t), 0), 0), wasm.multiply(get(m), load(get(q), 0)))),
    ...step(q, 8),
    ...step(t, 4),
  ];
  const eachLeft = [
    ...set(left, loadWord(get(t), 0)),
    ...set(q, loadWord(get(t), 4)),
    ...set(e, loadWord(get(t), 8)),
    ...set(inverses, loadWord(get(t), 12)),
    ...set(m, load(get(left), 0)),
    ...step(t, 16),
    ...until(t, get(e), update),
    ...put(get(left), wasm.multiply(get(m), load(get(inverses), 0))),
    ...step(lefts, -1),
  ];
  const eachRight = [
    ...set(value, load(get(q), 0)),
    ...set(largest, wasm.most(get(largest), wasm.size(get(value)))),
    ...put(get(q), wasm.multiply(get(value), get(inverse))),
    ...step(q, 8),
  ];
  const body = [
    ...set(lefts, loadWord(get(t), 0)),
    ...step(t, 4),
    ...wasm.whileTrue(get(lefts), eachLeft),
    ...set(q, loadWord(get(t), 0)),
    ...set(e, loadWord(get(t), 4)),
    ...set(inverses, loadWord(get(t), 8)),
    ...step(t, 12),
    ...set(pivot, load(get(q), 0)),
    ...set(inverse, wasm.divide(f64(1), get(pivot))),
    ...set(largest, f64(0)),
    ...step(q, 8),
    ...until(q, get(e), eachRight),
    ...wasm.returnIf(
      wasm.not(
        wasm.both(
          wasm.more(wasm.size(get(pivot)), wasm.multiply(get(smallest), get(largest))),
          wasm.less(wasm.size(get(pivot)), f64(Number.POSITIVE_INFINITY)),
        ),
      ),
      get(row),
    ),
    ...put(get(inverses), get(inverse)),
    ...step(row, 1),
  ];
  return {
    name: "factorise",
    parameters: [I32, I32, F64],
    results: [I32],
    locals: [
      [6, I32],
      [5, F64],
    ],
    code: [...until(t, get(end), body), ...word(-1)],
  };
}

/** solve(forward, forwardEnd, x, xEnd, inverses, backward, backwardEnd): see `SparseLU` for the tables. */
function solveCode(): FunctionCode {
  const [f, fEnd, x, xEnd, inverses, b, bEnd, e, m] = [0, 1, 2, 3, 4, 5, 6, 7, 8];
  const substitute = (p: number, end: number): Code =>
    until(p, get(end), [
      ...set(m, load(loadWord(get(p), 0), 0)),
      ...set(e, loadWord(get(p), 4)),
      ...step(p, 8),
      ...until(p, get(e), [
        ...put(
          loadWord(get(p), 0),
          wasm.subtract(load(loadWord(get(p), 0), 0), wasm.multiply(load(loadWord(get(p), 4), 0), get(m))),
        ),
        ...step(p, 8),
      ]),
    ]);
  const scale = until(x, get(xEnd), [
    ...put(get(x), wasm.multiply(load(get(x), 0), load(get(inverses), 0))),
    ...step(x, 8),
    ...step(inverses, 8),
  ]);
  return {
    name: "solve",
    parameters: [I32, I32, I32, I32, I32, I32, I32],
    results: [],
    locals: [
      [1, I32],
      [1, F64],
    ],
    code: [...substitute(f, fEnd), ...scale, ...substitute(b, bEnd)],
  };
}

const moduleOfLoops = (): Uint8Array<ArrayBuffer> =>
  moduleBytes([runCode(), combineCode(), assembleCode(), factoriseCode(), solveCode()]);

/** Compiled on first use, and shared by all instances. */
let compiledModule: WebAssembly.Module | undefined;

/** The content policy of a web page may forbid compilation and report the attempt, so pages start with JavaScript loops. */
let allowed = !("window" in globalThis || "WorkerGlobalScope" in globalThis);

export const mayCompile = (): boolean => allowed;

/** Lets a page whose content policy permits it use WebAssembly; where compilation fails, the JavaScript loops stay in use. */
export function compileWhereAllowed(): void {
  try {
    compiledModule ??= new WebAssembly.Module(moduleOfLoops());
    allowed = true;
  } catch (error) {
    if (!(error instanceof WebAssembly.CompileError)) throw error;
    allowed = false;
  }
}

/**
 * @param bytes size of the memory
 * @param webAssembly false where a content policy forbids compilation
 */
export function createVectorLoops(bytes: number, webAssembly: boolean): VectorLoops {
  const memory = webAssembly ? memoryOf(bytes) : null;
  const buffer = memory?.buffer ?? new ArrayBuffer(Math.ceil(bytes / ALIGNMENT) * ALIGNMENT);
  const loops: Exports = memory
    ? (new WebAssembly.Instance(compile(), { m: { m: memory } }).exports as unknown as Exports)
    : scriptLoops(buffer);
  let used = 0;
  const take = (size: number) => {
    const at = used;
    used += Math.ceil(size / ALIGNMENT) * ALIGNMENT;
    return at;
  };
  return {
    memory,
    buffer,
    floats: (length) => new Float64Array(buffer, take(8 * length), length),
    integers: (length) => new Int32Array(buffer, take(4 * length), length),
    run: loops.run,
    combine: loops.combine,
    assemble: loops.assemble,
    factorise: loops.factorise,
    solve: loops.solve,
  };
}

/**
 * Memory for WebAssembly. The engine reserves gigabytes of address space whatever its size, so this returns null where
 * address space is limited (`ulimit -v`) or exhausted.
 */
function memoryOf(bytes: number): WebAssembly.Memory | null {
  try {
    return new WebAssembly.Memory({ initial: Math.ceil(bytes / PAGE) });
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function compile(): WebAssembly.Module {
  compiledModule ??= new WebAssembly.Module(moduleOfLoops());
  return compiledModule;
}

function scriptLoops(buffer: ArrayBufferLike): Exports {
  const words = new Int32Array(buffer);
  const floats = new Float64Array(buffer);
  /** Index of the float64 whose address a word contains. */
  const at = (p: number): number => words[p >> 2] >> 3;
  const substitute = (from: number, to: number): void => {
    for (let p = from; p < to; ) {
      const m = floats[at(p)];
      const end = words[(p + 4) >> 2];
      for (p += 8; p < end; p += 8) floats[at(p)] -= floats[at(p + 4)] * m;
    }
  };
  return {
    run(from, to) {
      for (let p = from; p < to; p += 12) floats[at(p)] -= floats[at(p + 4)] * floats[at(p + 8)];
    },
    combine(out, outEnd, terms, termsEnd, scale) {
      for (let t = terms; t < termsEnd; t += 16) {
        const factor = floats[t >> 3] * scale;
        for (let o = out >> 3, x = at(t + 8); o < outEnd >> 3; o++, x++) floats[o] += factor * floats[x];
      }
    },
    assemble(values, valuesEnd, scatter, scatterEnd, a, diagonals, diagonalsEnd, shift) {
      floats.fill(0, values >> 3, valuesEnd >> 3);
      for (let s = scatter, from = a >> 3; s < scatterEnd; s += 4, from++) floats[at(s)] = -floats[from];
      for (let d = diagonals; d < diagonalsEnd; d += 4) floats[at(d)] += shift;
    },
    factorise(table, tableEnd, smallest) {
      let row = 0;
      for (let t = table; t < tableEnd; row++) {
        let lefts = words[t >> 2];
        for (t += 4; lefts > 0; lefts--) {
          const left = at(t);
          let q = at(t + 4);
          const end = words[(t + 8) >> 2];
          const inverse = at(t + 12);
          const m = floats[left];
          for (t += 16; t < end; t += 4, q++) floats[at(t)] -= m * floats[q];
          floats[left] = m * floats[inverse];
        }
        const here = at(t);
        const end = at(t + 4);
        const inverseAt = at(t + 8);
        t += 12;
        const pivot = floats[here];
        const inverse = 1 / pivot;
        let largest = 0;
        for (let q = here + 1; q < end; q++) {
          largest = Math.max(largest, Math.abs(floats[q]));
          floats[q] *= inverse;
        }
        if (!(Math.abs(pivot) > smallest * largest && Math.abs(pivot) < Number.POSITIVE_INFINITY)) return row;
        floats[inverseAt] = inverse;
      }
      return -1;
    },
    solve(forward, forwardEnd, x, xEnd, inverses, backward, backwardEnd) {
      substitute(forward, forwardEnd);
      for (let i = x >> 3, v = inverses >> 3; i < xEnd >> 3; i++, v++) floats[i] *= floats[v];
      substitute(backward, backwardEnd);
    },
  };
}
