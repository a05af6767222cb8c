// Elementary functions that give the same bits in every engine and on every processor. They use only + - * / and square
// roots, whose results IEEE 754 fixes to the last bit. The language leaves Math.exp, Math.log, Math.pow and ** to the
// engine (ECMA-262, 21.3.2), and they do differ: x ** y differs between Node 20 and 22, because one brings its own code
// and the other uses that of the system.
//
// Method: argument reduction by powers of two, with ln 2 in two parts (Cody & Waite 1980, "Software Manual for the
// Elementary Functions"), then the Taylor series. The error of exp, log and cbrt is at most one unit in the last place
// (test); that of pow grows with the product of exponent and logarithm and is 1e-15 of the result at 20.

/** ln 2 with its last 32 bits zero, so that its product with a whole number is exact, and the remainder of ln 2. */
const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
const SQRT_HALF_HIGH_BITS = 0x6a09e;

const SMALLEST_EXPONENT = -1022;
/** 2^n for n from -1022 to 1023, exact. */
const POWERS_OF_TWO = new Float64Array(2046);
POWERS_OF_TWO[0] = 2.2250738585072014e-308;
for (let i = 1; i < POWERS_OF_TWO.length; i++) POWERS_OF_TWO[i] = 2 * POWERS_OF_TWO[i - 1];
const powerOfTwo = (n: number): number => POWERS_OF_TWO[n - SMALLEST_EXPONENT];

/** e^x. */
export function exp(x: number): number {
  if (!(x > -746)) return x <= -746 ? 0 : Number.NaN;
  if (x > 710) return Number.POSITIVE_INFINITY;
  const k = Math.floor(x * Math.LOG2E + 0.5);
  const high = x - k * LN2_HIGH;
  const low = k * LN2_LOW;
  const r = high - low;
  const r2 = r * r;
  // Taylor series from r^2/2 on, with |r| <= ln 2 / 2; the truncated terms are below 1e-17.
  const tail =
    r2 *
    (1 / 2 +
      r * (1 / 6) +
      r2 *
        (1 / 24 +
          r * (1 / 120) +
          r2 *
            (1 / 720 +
              r * (1 / 5040) +
              r2 *
                (1 / 40320 +
                  r * (1 / 362880) +
                  r2 * (1 / 3628800 + r * (1 / 39916800) + r2 * (1 / 479001600 + r * (1 / 6227020800)))))));
  const fraction = 1 + (high + (tail - low));
  if (k > 1023) return fraction * powerOfTwo(1023) * powerOfTwo(k - 1023);
  if (k < SMALLEST_EXPONENT) return fraction * powerOfTwo(k + 100) * powerOfTwo(-100);
  return fraction * powerOfTwo(k);
}

const float = new Float64Array(1);
const words = new Int32Array(float.buffer);
/** Which of the two 32-bit words of a float64 holds the exponent on this processor. */
const HIGH_WORD = new Uint8Array(Uint16Array.of(1).buffer)[0] === 1 ? 1 : 0;

/** Natural logarithm; NaN below zero. */
export function log(x: number): number {
  if (!(x > 0)) return x === 0 ? Number.NEGATIVE_INFINITY : Number.NaN;
  if (x === Number.POSITIVE_INFINITY) return x;
  let k = 0;
  let scaled = x;
  if (x < 2.2250738585072014e-308) {
    scaled = x * powerOfTwo(54);
    k = -54;
  }
  float[0] = scaled;
  const bits = words[HIGH_WORD];
  const own = (bits >> 20) - 1023 + ((bits & 0xfffff) >= SQRT_HALF_HIGH_BITS ? 1 : 0);
  k += own;
  // m lies between the square roots of 1/2 and 2; multiplying by a power of two is exact. 2^-1024 does not have full precision.
  const m = own > 1022 ? scaled * powerOfTwo(-own + 2) * 0.25 : scaled * powerOfTwo(-own);
  // ln m = 2 artanh s, |s| <= 0.1716; the truncated terms are below 1e-18.
  const s = (m - 1) / (m + 1);
  const z = s * s;
  const w = z * z;
  const tail =
    z *
    (1 / 3 +
      z * (1 / 5) +
      w * (1 / 7 + z * (1 / 9) + w * (1 / 11 + z * (1 / 13) + w * (1 / 15 + z * (1 / 17) + w * (1 / 19 + z * (1 / 21))))));
  return k * LN2_HIGH + (2 * s + (2 * s * tail + k * LN2_LOW));
}

/** x^n for whole n from 0 to 64, by repeated squaring. */
function wholePower(x: number, n: number): number {
  let result = 1;
  let square = x;
  for (let left = n; left > 0; left >>= 1) {
    if (left & 1) result *= square;
    square *= square;
  }
  return result;
}

export const square = (x: number): number => x * x;
export const cube = (x: number): number => x * x * x;
export const fourthRoot = (x: number): number => Math.sqrt(Math.sqrt(x));

/** x^y. Whole and half powers up to 64 use multiplication and the square root; any other power of a negative number is NaN. */
export function pow(x: number, y: number): number {
  const size = Math.abs(y);
  if (size <= 64 && Number.isInteger(2 * size)) {
    const whole = Math.floor(size);
    const power = wholePower(x, whole) * (whole === size ? 1 : Math.sqrt(x));
    return y < 0 ? 1 / power : power;
  }
  if (x === 0) return y > 0 ? 0 : Number.POSITIVE_INFINITY;
  return exp(y * log(x));
}

/** 10^x; exact for whole x from -22 to 22. */
export function exp10(x: number): number {
  if (Number.isInteger(x) && Math.abs(x) <= 22) return x < 0 ? 1 / wholePower(10, -x) : wholePower(10, x);
  return exp(x * Math.LN10);
}

/** Decimal logarithm; exact for whole powers of ten from 10^-22 to 10^22. */
export function log10(x: number): number {
  const value = log(x) / Math.LN10;
  const whole = Math.round(value);
  return Math.abs(value - whole) < 1e-12 && exp10(whole) === x ? whole : value;
}

/** Cube root, also of negative numbers. */
export function cbrt(x: number): number {
  const size = Math.abs(x);
  if (size === 0 || size === Number.POSITIVE_INFINITY || Number.isNaN(x)) return x;
  const guess = exp(log(size) / 3);
  // One Newton step removes the rounding error of the logarithm.
  const root = guess - (guess * guess * guess - size) / (3 * guess * guess);
  return x < 0 ? -root : root;
}

/** Root of the sum of squares; the squares must not overflow. */
export const hypot = (x: number, y: number, z = 0): number => Math.sqrt(x * x + y * y + z * z);

/** Sine of an angle between -π/2 and π/2 [rad]. */
export function sin(x: number): number {
  const x2 = x * x;
  let tail = 1;
  // The term of x^25 is below 1e-18 at π/2.
  for (let n = 22; n >= 2; n -= 2) tail = 1 - (x2 / (n * (n + 1))) * tail;
  return x * tail;
}

/** Smooth step from 0 at 0 to 1 at 1, with zero slope at both ends; 0 before and 1 after. */
export function smoothStep(x: number): number {
  const s = Math.min(1, Math.max(0, x));
  return s * s * (3 - 2 * s);
}
