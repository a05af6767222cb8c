// Interprets programs node by node, where WebAssembly is not available. The same operations in the same order give the same bits.
import { exp, log } from "../elementary.ts";
import { type Graph, Op, type Program } from "./graph.ts";

/** @param buffer the memory to which the base addresses [bytes] refer */
export function scriptProgram(graph: Graph, { outputs }: Program, buffer: ArrayBufferLike): (...bases: number[]) => void {
  const nodes = graph.needed(outputs.map(({ node }) => node));
  const slot = new Map(nodes.map((ref, i) => [ref, i]));
  const slots = (of: readonly number[], isNode: (op: Op) => boolean): Int32Array =>
    Int32Array.from(nodes, (ref) => (isNode(graph.op[ref]) ? (slot.get(of[ref]) ?? 0) : of[ref]));
  const inner = (op: Op): boolean => op !== Op.Load && op !== Op.Constant;
  const op = Uint8Array.from(nodes, (ref) => graph.op[ref]);
  const [a, b, c] = [slots(graph.a, inner), slots(graph.b, inner), slots(graph.c, inner)];
  const values = Float64Array.from(nodes, (ref) => graph.value[ref]);
  const ends = outputs.map(({ node, ...to }) => ({ ...to, node: slot.get(node)! }));
  const floats = new Float64Array(buffer);
  const words = new Int32Array(buffer);
  return (...bases) => {
    for (let i = 0; i < op.length; i++) {
      const kind: Op = op[i];
      switch (kind) {
        case Op.Constant:
          break;
        case Op.Load:
          values[i] = floats[(bases[a[i]] >> 3) + b[i]];
          break;
        case Op.Add:
          values[i] = values[a[i]] + values[b[i]];
          break;
        case Op.Subtract:
          values[i] = values[a[i]] - values[b[i]];
          break;
        case Op.Multiply:
          values[i] = values[a[i]] * values[b[i]];
          break;
        case Op.Divide:
          values[i] = values[a[i]] / values[b[i]];
          break;
        case Op.Root:
          values[i] = Math.sqrt(values[a[i]]);
          break;
        case Op.Most:
          values[i] = Math.max(values[a[i]], values[b[i]]);
          break;
        case Op.Size:
          values[i] = Math.abs(values[a[i]]);
          break;
        case Op.Choose:
          values[i] = values[a[i]] > 0 ? values[b[i]] : values[c[i]];
          break;
        case Op.Exp:
          values[i] = exp(values[a[i]]);
          break;
        case Op.Log:
          values[i] = log(values[a[i]]);
          break;
      }
    }
    for (const { node, base, place, indirect } of ends) {
      const at = indirect ? words[(bases[base] >> 2) + place] >> 3 : (bases[base] >> 3) + place;
      floats[at] += values[node];
    }
  };
}
