// exp and log of `sim/elementary.ts` as WebAssembly: the same operations in the same order, so the same bits (test).
import { type Code, F64, type FunctionCode, I64, wasm } from "../webassembly/assembler.ts";

const { get, set, f64, i64, add, subtract, multiply, divide } = wasm;
const times = (...factors: Code[]): Code => factors.reduce(multiply);
const X = 0;

/** 2^n for n from -1022 to 1023, from its exponent bits. */
const powerOfTwo = (n: Code): Code => wasm.ofBits(wasm.shiftLeft(wasm.longAdd(n, i64(1023)), i64(52)));

const LN2_HIGH = f64(0.6931471803691238);
const LN2_LOW = f64(1.9082149292705877e-10);

/** e^x. */
export function expCode(): FunctionCode {
  const [k, high, low, r, r2, fraction, n] = [1, 2, 3, 4, 5, 6, 7];
  /** a + r b + r² rest */
  const series = (a: number, b: number, rest: Code): Code => add(add(f64(a), multiply(get(r), f64(b))), multiply(get(r2), rest));
  const last = add(f64(1 / 479001600), multiply(get(r), f64(1 / 6227020800)));
  const tail = multiply(
    get(r2),
    series(
      1 / 2,
      1 / 6,
      series(1 / 24, 1 / 120, series(1 / 720, 1 / 5040, series(1 / 40320, 1 / 362880, series(1 / 3628800, 1 / 39916800, last)))),
    ),
  );
  const scaled = (first: Code, second: Code): Code => times(get(fraction), powerOfTwo(first), powerOfTwo(second));
  const code = [
    ...wasm.returnIf(
      wasm.not(wasm.more(get(X), f64(-746))),
      wasm.choose(wasm.notMore(get(X), f64(-746)), f64(0), f64(Number.NaN)),
    ),
    ...wasm.returnIf(wasm.more(get(X), f64(710)), f64(Number.POSITIVE_INFINITY)),
    ...set(k, wasm.floor(add(multiply(get(X), f64(Math.LOG2E)), f64(0.5)))),
    ...set(n, wasm.toLong(get(k))),
    ...set(high, subtract(get(X), multiply(get(k), LN2_HIGH))),
    ...set(low, multiply(get(k), LN2_LOW)),
    ...set(r, subtract(get(high), get(low))),
    ...set(r2, multiply(get(r), get(r))),
    ...set(fraction, add(f64(1), add(get(high), subtract(tail, get(low))))),
    ...wasm.returnIf(wasm.longMore(get(n), i64(1023)), scaled(i64(1023), wasm.longSubtract(get(n), i64(1023)))),
    ...wasm.returnIf(wasm.longLess(get(n), i64(-1022)), scaled(wasm.longAdd(get(n), i64(100)), i64(-100))),
    ...multiply(get(fraction), powerOfTwo(get(n))),
  ];
  return {
    parameters: [F64],
    results: [F64],
    locals: [
      [6, F64],
      [1, I64],
    ],
    code,
  };
}

/** ln x for x >= 1. */
export function logCode(): FunctionCode {
  const [m, s, z, w, kept, k, bits] = [1, 2, 3, 4, 5, 6, 7];
  const pair = (a: number, b: number): Code => add(f64(a), multiply(get(z), f64(b)));
  const inner = add(pair(1 / 15, 1 / 17), multiply(get(w), pair(1 / 19, 1 / 21)));
  const tail = multiply(
    get(z),
    add(
      pair(1 / 3, 1 / 5),
      multiply(get(w), add(pair(1 / 7, 1 / 9), multiply(get(w), add(pair(1 / 11, 1 / 13), multiply(get(w), inner))))),
    ),
  );
  const mantissa = wasm.longAnd(wasm.shiftRight(get(bits), i64(32)), i64(0xfffff));
  const exponent = wasm.longSubtract(wasm.shiftRight(get(bits), i64(52)), i64(1023));
  const code = [
    ...wasm.returnIf(wasm.not(wasm.less(get(X), f64(Number.POSITIVE_INFINITY))), get(X)),
    ...set(bits, wasm.bitsOf(get(X))),
    ...set(k, wasm.longAdd(exponent, wasm.widen(wasm.longMore(mantissa, i64(0x6a09d))))),
    ...set(m, times(get(X), powerOfTwo(wasm.longSubtract(i64(2), get(k))), f64(0.25))),
    ...set(s, divide(subtract(get(m), f64(1)), add(get(m), f64(1)))),
    ...set(z, multiply(get(s), get(s))),
    ...set(w, multiply(get(z), get(z))),
    ...set(kept, wasm.fromLong(get(k))),
    ...add(
      multiply(get(kept), LN2_HIGH),
      add(times(f64(2), get(s)), add(times(f64(2), get(s), tail), multiply(get(kept), LN2_LOW))),
    ),
  ];
  return {
    parameters: [F64],
    results: [F64],
    locals: [
      [5, F64],
      [2, I64],
    ],
    code,
  };
}
