// The one loop that a sparse factorisation spends its time in, as WebAssembly where that is allowed and as script elsewhere.

/**
 * A block of memory, and a loop that runs a list of operations in it. Every operation is three byte addresses (int32) of float64s:
 * a, b, c stand for a -= b * c. Both kinds of loop do the same operations in the same order and give the same bits.
 */
export interface MultiplySubtract {
  readonly buffer: ArrayBuffer;
  /** Runs the operations stored from byte address `from` up to `to`. */
  run(from: number, to: number): void;
}

const PAGE = 65_536;

/**
 * (loop (if (i32.lt_u p end) (then
 *   (f64.store (i32.load p) (f64.sub (f64.load (i32.load p)) (f64.mul (f64.load (i32.load p+4)) (f64.load (i32.load p+8)))))
 *   p += 12, again)))
 */
const MODULE = Uint8Array.from([
  ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00], // magic, version
  ...[0x01, 0x06, 0x01, 0x60, 0x02, 0x7f, 0x7f, 0x00], // type: (i32, i32) -> ()
  ...[0x02, 0x08, 0x01, 0x01, 0x6d, 0x01, 0x6d, 0x02, 0x00, 0x01], // import "m" "m": memory
  ...[0x03, 0x02, 0x01, 0x00], // one function of that type
  ...[0x07, 0x07, 0x01, 0x03, 0x72, 0x75, 0x6e, 0x00, 0x00], // export "run"
  ...[0x0a, 0x3a, 0x01, 0x38, 0x00], // code: one body, no locals
  ...[0x03, 0x40, 0x20, 0x00, 0x20, 0x01, 0x49, 0x04, 0x40], // loop, if p < end
  ...[0x20, 0x00, 0x28, 0x02, 0x00], // address of a
  ...[0x20, 0x00, 0x28, 0x02, 0x00, 0x2b, 0x03, 0x00], // a
  ...[0x20, 0x00, 0x28, 0x02, 0x04, 0x2b, 0x03, 0x00], // b
  ...[0x20, 0x00, 0x28, 0x02, 0x08, 0x2b, 0x03, 0x00], // c
  ...[0xa2, 0xa1, 0x39, 0x03, 0x00], // a - b * c, store
  ...[0x20, 0x00, 0x41, 0x0c, 0x6a, 0x21, 0x00], // p += 12
  ...[0x0c, 0x01, 0x0b, 0x0b, 0x0b], // again; end if, loop, function
]);

/** @param bytes size of the memory; @param webAssembly a page whose content policy forbids it must ask for script */
export function multiplySubtract(bytes: number, webAssembly: boolean): MultiplySubtract {
  if (!webAssembly) {
    const buffer = new ArrayBuffer(Math.ceil(bytes / 8) * 8);
    const words = new Int32Array(buffer);
    const floats = new Float64Array(buffer);
    return {
      buffer,
      run(from, to) {
        for (let p = from >> 2; p < to >> 2; p += 3)
          floats[words[p] >> 3] -= floats[words[p + 1] >> 3] * floats[words[p + 2] >> 3];
      },
    };
  }
  const memory = new WebAssembly.Memory({ initial: Math.ceil(bytes / PAGE) });
  const { run } = new WebAssembly.Instance(new WebAssembly.Module(MODULE), { m: { m: memory } }).exports;
  return { buffer: memory.buffer, run: run as MultiplySubtract["run"] };
}
