// Compiles the programs of a graph to functions: WebAssembly where it may be compiled, otherwise interpreted in JavaScript.
import { type Code, F64, type FunctionCode, I32, moduleBytes, wasm } from "../webassembly/assembler.ts";
import { expCode, logCode } from "./elementary-code.ts";
import { type Graph, Op, type Program, type Ref } from "./graph.ts";
import { scriptProgram } from "./script.ts";

/** Adds its outputs to memory; called with its base addresses [bytes]. */
export type Compiled = (...bases: number[]) => void;

/** Memory for programs: WebAssembly memory where available, otherwise a plain buffer. */
export interface FormulaMemory {
  readonly memory: WebAssembly.Memory | null;
  readonly buffer: ArrayBufferLike;
}

const EXP = 0;
const LOG = 1;

/** Programs that are compiled on first use, once for all memories. */
export class Formulas {
  private readonly graph: Graph;
  private readonly programs: readonly Program[];
  private module: WebAssembly.Module | undefined;

  constructor(graph: Graph, programs: readonly Program[]) {
    this.graph = graph;
    this.programs = programs;
  }

  /** The programs bound to a memory, by name. */
  over({ memory, buffer }: FormulaMemory): Readonly<Record<string, Compiled>> {
    if (memory === null)
      return Object.fromEntries(this.programs.map((program) => [program.name, scriptProgram(this.graph, program, buffer)]));
    this.module ??= new WebAssembly.Module(
      moduleBytes([expCode(), logCode(), ...this.programs.map((program) => programCode(this.graph, program))]),
    );
    return new WebAssembly.Instance(this.module, { m: { m: memory } }).exports as Record<string, Compiled>;
  }
}

/** A node that is used once is computed in place; one that is used more often is kept in a local variable. */
function programCode(graph: Graph, { name, bases, outputs }: Program): FunctionCode {
  const { op, a, b, c, value } = graph;
  const uses = new Map<Ref, number>();
  const use = (ref: Ref): void => {
    uses.set(ref, (uses.get(ref) ?? 0) + 1);
  };
  for (const { node } of outputs) use(node);
  for (const ref of graph.needed(outputs.map(({ node }) => node))) for (const operand of graph.operands(ref)) use(operand);

  const address = bases;
  const firstLocal = bases + 1;
  const local = new Map<Ref, number>();
  const code: number[] = [];
  const put = (bytes: Code): void => {
    for (const byte of bytes) code.push(byte);
  };
  const emit = (ref: Ref): void => {
    const kept = local.get(ref);
    if (kept !== undefined) {
      put(wasm.get(kept));
      return;
    }
    emitNode(ref);
    if (op[ref] === Op.Constant) return;
    if (uses.get(ref) === 1) return;
    const index = firstLocal + local.size;
    local.set(ref, index);
    put(wasm.tee(index, []));
  };
  const emitNode = (ref: Ref): void => {
    const kind = op[ref];
    if (kind === Op.Constant) put(wasm.f64(value[ref]));
    else if (kind === Op.Load) put(wasm.load(wasm.get(a[ref]), 8 * b[ref]));
    else if (kind === Op.Choose) {
      emit(b[ref]);
      emit(c[ref]);
      emit(a[ref]);
      put(wasm.choose(wasm.more([], wasm.f64(0)), [], []));
    } else {
      for (const operand of graph.operands(ref)) emit(operand);
      put(instruction[kind]);
    }
  };
  for (const { node, base, place, indirect } of outputs) {
    const offset = indirect ? 0 : 8 * place;
    if (indirect) put([...wasm.tee(address, wasm.loadWord(wasm.get(base), 4 * place)), ...wasm.load(wasm.get(address), 0)]);
    else put([...wasm.get(base), ...wasm.load(wasm.get(base), offset)]);
    emit(node);
    put(wasm.store([], offset, wasm.add([], [])));
  }
  return {
    name,
    parameters: Array.from({ length: bases }, () => I32),
    results: [],
    locals: [
      [1, I32],
      [local.size, F64],
    ],
    code,
  };
}

/** The instruction that computes a node from its operands on the stack. */
const instruction: Record<Exclude<Op, Op.Constant | Op.Load | Op.Choose>, Code> = {
  [Op.Add]: wasm.add([], []),
  [Op.Subtract]: wasm.subtract([], []),
  [Op.Multiply]: wasm.multiply([], []),
  [Op.Divide]: wasm.divide([], []),
  [Op.Most]: wasm.most([], []),
  [Op.Root]: wasm.root([]),
  [Op.Size]: wasm.size([]),
  [Op.Exp]: wasm.call(EXP, []),
  [Op.Log]: wasm.call(LOG, []),
};
