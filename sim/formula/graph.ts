// Formulas as a graph of operations: built once from tables, differentiated exactly, and then compiled to WebAssembly
// or interpreted in JavaScript, with the same bits. Numbers only.

/** A node of a `Graph`. */
export type Ref = number;

export enum Op {
  Constant,
  /** The float64 at base address a, position b. */
  Load,
  Add,
  Subtract,
  Multiply,
  Divide,
  Root,
  Most,
  Size,
  /** b where a > 0, else c. */
  Choose,
  /** e^a. */
  Exp,
  /** Natural logarithm of a, which must be 1 or more. */
  Log,
}

/** So that an operation and its three operands make one exact number, by which equal nodes are found. */
const MOST_NODES = 32_768;

/** A node with the derivatives that its builder states. */
type Slopes = readonly { readonly of: Ref; readonly slope: Ref }[];

/** A graph that grows through its methods. Equal formulas share one node, and a node comes after its operands. */
export class Graph {
  readonly op: Op[] = [];
  readonly a: number[] = [];
  readonly b: number[] = [];
  readonly c: number[] = [];
  /** Of constants. */
  readonly value: number[] = [];
  private readonly known = new Map<number, Ref>();
  private readonly constants = new Map<number, Ref>();
  private readonly stated = new Map<Ref, Slopes>();
  private readonly derived = new Map<number, Ref>();
  readonly zero: Ref = this.constant(0);
  readonly one: Ref = this.constant(1);

  private node(op: Op, a: number, b = 0, c = 0): Ref {
    const key = ((op * MOST_NODES + a) * MOST_NODES + b) * MOST_NODES + c;
    const known = this.known.get(key);
    if (known !== undefined) return known;
    const ref = this.append(op, a, b, c, Number.NaN);
    this.known.set(key, ref);
    return ref;
  }

  constant(value: number): Ref {
    const known = this.constants.get(value);
    if (known !== undefined) return known;
    const ref = this.append(Op.Constant, 0, 0, 0, value);
    this.constants.set(value, ref);
    return ref;
  }

  private append(op: Op, a: number, b: number, c: number, value: number): Ref {
    const ref = this.op.push(op) - 1;
    if (ref >= MOST_NODES) throw new Error(`a graph holds at most ${MOST_NODES} nodes`);
    this.a.push(a);
    this.b.push(b);
    this.c.push(c);
    this.value.push(value);
    return ref;
  }

  load(base: number, place: number): Ref {
    return this.node(Op.Load, base, place);
  }

  /** A load with given derivatives with respect to other nodes. */
  given(base: number, place: number, slopes: Slopes): Ref {
    const ref = this.load(base, place);
    this.stated.set(ref, slopes);
    return ref;
  }

  /** The node with the given derivatives instead of those of its formula. */
  withSlopes(ref: Ref, slopes: Slopes): Ref {
    this.stated.set(ref, slopes);
    return ref;
  }

  add(a: Ref, b: Ref): Ref {
    if (a === this.zero) return b;
    return b === this.zero ? a : this.node(Op.Add, a, b);
  }

  sum(parts: readonly Ref[]): Ref {
    return parts.reduce((sum, part) => this.add(sum, part), this.zero);
  }

  subtract(a: Ref, b: Ref): Ref {
    return b === this.zero ? a : this.node(Op.Subtract, a, b);
  }

  multiply(a: Ref, b: Ref): Ref {
    if (a === this.zero || b === this.zero) return this.zero;
    if (a === this.one) return b;
    return b === this.one ? a : this.node(Op.Multiply, a, b);
  }

  product(factors: readonly Ref[]): Ref {
    return factors.reduce((product, factor) => this.multiply(product, factor), this.one);
  }

  divide(a: Ref, b: Ref): Ref {
    return a === this.zero ? a : this.node(Op.Divide, a, b);
  }

  root(a: Ref): Ref {
    return this.node(Op.Root, a);
  }

  /** The larger of two; NaN when one of them is NaN. */
  most(a: Ref, b: Ref): Ref {
    return this.node(Op.Most, a, b);
  }

  size(a: Ref): Ref {
    return this.node(Op.Size, a);
  }

  /** `yes` where `condition` > 0, otherwise (also for NaN) `no`. Both are computed. */
  choose(condition: Ref, yes: Ref, no: Ref): Ref {
    return yes === no ? yes : this.node(Op.Choose, condition, yes, no);
  }

  exp(a: Ref): Ref {
    return this.node(Op.Exp, a);
  }

  /** Natural logarithm of a value of at least 1. */
  log(a: Ref): Ref {
    return this.node(Op.Log, a);
  }

  /** Exact derivative of a node with respect to a load; the zero node where it does not depend on it. */
  derivative(of: Ref, by: Ref): Ref {
    if (of === by) return this.one;
    const key = of * MOST_NODES + by;
    const known = this.derived.get(key);
    if (known !== undefined) return known;
    const made = this.derive(of, by);
    this.derived.set(key, made);
    return made;
  }

  private derive(of: Ref, by: Ref): Ref {
    const stated = this.stated.get(of);
    if (stated) return this.sum(stated.map(({ of: inner, slope }) => this.multiply(slope, this.derivative(inner, by))));
    const [a, b, c] = [this.a[of], this.b[of], this.c[of]];
    const d = (node: Ref): Ref => this.derivative(node, by);
    switch (this.op[of]) {
      case Op.Constant:
      case Op.Load:
        return this.zero;
      case Op.Add:
        return this.add(d(a), d(b));
      case Op.Subtract:
        return this.subtract(d(a), d(b));
      case Op.Multiply:
        return this.add(this.multiply(d(a), b), this.multiply(a, d(b)));
      case Op.Divide:
        return this.divide(this.subtract(d(a), this.multiply(of, d(b))), b);
      case Op.Root:
        return this.divide(d(a), this.add(of, of));
      case Op.Most:
        return this.choose(this.subtract(a, b), d(a), d(b));
      case Op.Size:
        return this.multiply(this.choose(this.subtract(this.zero, a), this.constant(-1), this.one), d(a));
      case Op.Choose:
        return this.choose(a, d(b), d(c));
      case Op.Exp:
        return this.multiply(of, d(a));
      case Op.Log:
        return this.divide(d(a), a);
    }
  }

  /** The given nodes and all their operands, in order of dependence. */
  needed(outputs: readonly Ref[]): Ref[] {
    const marked = new Set<Ref>();
    const open = [...outputs];
    for (let ref = open.pop(); ref !== undefined; ref = open.pop()) {
      if (marked.has(ref)) continue;
      marked.add(ref);
      open.push(...this.operands(ref));
    }
    return [...marked].sort((x, y) => x - y);
  }

  operands(ref: Ref): readonly Ref[] {
    const [a, b, c] = [this.a[ref], this.b[ref], this.c[ref]];
    switch (this.op[ref]) {
      case Op.Constant:
      case Op.Load:
        return [];
      case Op.Root:
      case Op.Size:
      case Op.Exp:
      case Op.Log:
        return [a];
      case Op.Choose:
        return [a, b, c];
      default:
        return [a, b];
    }
  }
}

/**
 * Destination of a node's value: it is added to the float64 at base + 8 place, or at the address stored as int32 at
 * base + 4 place.
 */
export interface Output {
  readonly node: Ref;
  readonly base: number;
  readonly place: number;
  readonly indirect: boolean;
}

/** A function of base addresses that computes its outputs and adds each to its destination. */
export interface Program {
  readonly name: string;
  readonly bases: number;
  readonly outputs: readonly Output[];
}
