// The two loops that a step spends its time in, as WebAssembly where that is allowed and as script elsewhere.

/**
 * A block of memory and two loops over it. WebAssembly and script do the same operations in the same order and give the same bits;
 * WebAssembly takes about half the time.
 */
export interface VectorLoops {
  /** A new array in the kernel's memory, zeros. */
  floats(length: number): Float64Array;
  integers(length: number): Int32Array;
  /**
   * Runs a list of operations a -= b * c, stored from byte address `from` up to `to`; each is three byte addresses (int32) of
   * float64s.
   */
  run(from: number, to: number): void;
  /** out_i += factor * x_i for i < length; out and x are byte addresses. */
  addScaled(out: number, factor: number, x: number, length: number): void;
}

const PAGE = 65_536;

const MODULE = Uint8Array.from([
  ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00], // magic, version
  // types: (i32, i32) -> (), (i32, f64, i32, i32) -> ()
  ...[0x01, 0x0d, 0x02, 0x60, 0x02, 0x7f, 0x7f, 0x00, 0x60, 0x04, 0x7f, 0x7c, 0x7f, 0x7f, 0x00],
  ...[0x02, 0x08, 0x01, 0x01, 0x6d, 0x01, 0x6d, 0x02, 0x00, 0x01], // import "m" "m": memory
  ...[0x03, 0x03, 0x02, 0x00, 0x01], // two functions of these types
  ...[0x07, 0x0d, 0x02, 0x03, 0x72, 0x75, 0x6e, 0x00, 0x00, 0x03, 0x61, 0x64, 0x64, 0x00, 0x01], // exports "run", "add"
  ...[0x0a, 0x6b, 0x02], // code: two bodies
  // run(p, end): loop { if p < end { [p] = [[p]] - [[p + 4]] * [[p + 8]]; p += 12; again } }
  ...[0x38, 0x00, 0x03, 0x40, 0x20, 0x00, 0x20, 0x01, 0x49, 0x04, 0x40],
  ...[0x20, 0x00, 0x28, 0x02, 0x00],
  ...[0x20, 0x00, 0x28, 0x02, 0x00, 0x2b, 0x03, 0x00],
  ...[0x20, 0x00, 0x28, 0x02, 0x04, 0x2b, 0x03, 0x00],
  ...[0x20, 0x00, 0x28, 0x02, 0x08, 0x2b, 0x03, 0x00],
  ...[0xa2, 0xa1, 0x39, 0x03, 0x00],
  ...[0x20, 0x00, 0x41, 0x0c, 0x6a, 0x21, 0x00],
  ...[0x0c, 0x01, 0x0b, 0x0b, 0x0b],
  // add(out, factor, x, end): loop { if out < end { [out] = [out] + factor * [x]; out += 8; x += 8; again } }
  ...[0x30, 0x00, 0x03, 0x40, 0x20, 0x00, 0x20, 0x03, 0x49, 0x04, 0x40],
  ...[0x20, 0x00, 0x20, 0x00, 0x2b, 0x03, 0x00],
  ...[0x20, 0x01, 0x20, 0x02, 0x2b, 0x03, 0x00, 0xa2],
  ...[0xa0, 0x39, 0x03, 0x00],
  ...[0x20, 0x00, 0x41, 0x08, 0x6a, 0x21, 0x00],
  ...[0x20, 0x02, 0x41, 0x08, 0x6a, 0x21, 0x02],
  ...[0x0c, 0x01, 0x0b, 0x0b, 0x0b],
]);

/** Compiled when first needed, once for all kernels. */
let coupled: WebAssembly.Module | undefined;

/** In a browser a page's content policy may forbid to compile, and would report the attempt: script, until the page says otherwise. */
let allowed = !("window" in globalThis || "WorkerGlobalScope" in globalThis);

export const mayCompile = (): boolean => allowed;

/** For a page whose content policy lets WebAssembly be compiled; stays with script where the browser does not. */
export function compileWhereAllowed(): void {
  try {
    coupled ??= new WebAssembly.Module(MODULE);
    allowed = true;
  } catch (error) {
    if (!(error instanceof WebAssembly.CompileError)) throw error;
    allowed = false;
  }
}

interface Exports {
  run(from: number, to: number): void;
  add(out: number, factor: number, x: number, end: number): void;
}

/** @param bytes size of the memory; @param webAssembly a page whose content policy forbids it must ask for script */
export function createVectorLoops(bytes: number, webAssembly: boolean): VectorLoops {
  const memory = webAssembly ? memoryOf(bytes) : null;
  const buffer = memory?.buffer ?? new ArrayBuffer(Math.ceil(bytes / 8) * 8);
  const { run, add } = memory
    ? (new WebAssembly.Instance(compile(), { m: { m: memory } }).exports as unknown as Exports)
    : scriptLoops(buffer);
  let used = 0;
  const take = (size: number) => {
    const at = used;
    used += Math.ceil(size / 8) * 8;
    return at;
  };
  return {
    floats: (length) => new Float64Array(buffer, take(8 * length), length),
    integers: (length) => new Int32Array(buffer, take(4 * length), length),
    run,
    addScaled: (out, factor, x, length) => add(out, factor, x, out + 8 * length),
  };
}

/**
 * Memory for WebAssembly, which reserves gigabytes of addresses whatever its size; null where addresses are limited (`ulimit -v`), or spent.
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
  coupled ??= new WebAssembly.Module(MODULE);
  return coupled;
}

function scriptLoops(buffer: ArrayBuffer): Exports {
  const words = new Int32Array(buffer);
  const floats = new Float64Array(buffer);
  return {
    run(from, to) {
      for (let p = from >> 2; p < to >> 2; p += 3) floats[words[p] >> 3] -= floats[words[p + 1] >> 3] * floats[words[p + 2] >> 3];
    },
    add(out, factor, x, end) {
      for (let i = out >> 3, j = x >> 3; i < end >> 3; i++, j++) floats[i] += factor * floats[j];
    },
  };
}
