// Where address space is limited (`ulimit -v`, shared clusters), WebAssembly gets no memory; the JavaScript loops then
// give the same bits.
import { expect, test, vi } from "vitest";
import { createVectorLoops } from "../../../sim/linear-algebra/vector-loops.ts";

function result(): number[] {
  const loops = createVectorLoops(1000, true);
  const [a, b] = [loops.floats(4), loops.floats(4)];
  a.set([1, 2, 3, 4]);
  b.set([0.1, 0.2, 0.3, 1 / 3]);
  const terms = loops.floats(2);
  terms[0] = Math.PI;
  new Int32Array(terms.buffer, terms.byteOffset)[2] = b.byteOffset;
  loops.combine(a.byteOffset, a.byteOffset + 32, terms.byteOffset, terms.byteOffset + 16, 0.7);
  const list = loops.integers(3);
  list.set([a.byteOffset, b.byteOffset, b.byteOffset + 8]);
  loops.run(list.byteOffset, list.byteOffset + list.byteLength);
  return [...a];
}

test("without memory for WebAssembly the JavaScript loops give the same bits", () => {
  const usual = result();
  class NoMemory {
    constructor() {
      throw new RangeError("WebAssembly.Memory(): could not allocate memory");
    }
  }
  vi.stubGlobal(
    "WebAssembly",
    new Proxy(WebAssembly, { get: (target, key) => (key === "Memory" ? NoMemory : Reflect.get(target, key)) }),
  );
  try {
    expect(result()).toEqual(usual);
  } finally {
    vi.unstubAllGlobals();
  }
});
