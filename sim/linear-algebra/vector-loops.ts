// The two inner loops that dominate the cost of a step: WebAssembly where it may be compiled, JavaScript elsewhere.

/**
 * A block of memory and two loops over it. WebAssembly and JavaScript do the same operations in the same order and give
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
  /** out_i += factor * x_i for 0 <= i < length; out and x are byte addresses. */
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

/** Compiled on first use, and shared by all instances. */
let compiledModule: WebAssembly.Module | undefined;

/** The content policy of a web page may forbid compilation and report the attempt, so pages start with JavaScript loops. */
let allowed = !("window" in globalThis || "WorkerGlobalScope" in globalThis);

export const mayCompile = (): boolean => allowed;

/** Lets a page whose content policy permits it use WebAssembly; where compilation fails, the JavaScript loops stay in use. */
export function compileWhereAllowed(): void {
  try {
    compiledModule ??= new WebAssembly.Module(MODULE);
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

/**
 * @param bytes size of the memory
 * @param webAssembly false where a content policy forbids compilation
 */
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
    memory,
    buffer,
    floats: (length) => new Float64Array(buffer, take(8 * length), length),
    integers: (length) => new Int32Array(buffer, take(4 * length), length),
    run,
    addScaled: (out, factor, x, length) => add(out, factor, x, out + 8 * length),
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
  compiledModule ??= new WebAssembly.Module(MODULE);
  return compiledModule;
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
