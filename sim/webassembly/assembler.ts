// Encodes a few constructs of WebAssembly's binary format (W3C, WebAssembly Core Specification 1.0, chapter 5) as lists of bytes.

export type Code = readonly number[];

const float = new DataView(new ArrayBuffer(8));

export function unsigned(value: number): Code {
  const bytes: number[] = [];
  let rest = value;
  for (; rest > 0x7f; rest = Math.floor(rest / 128)) bytes.push((rest & 0x7f) | 0x80);
  return [...bytes, rest];
}

function signed(value: number): Code {
  const bytes: number[] = [];
  let rest = value;
  for (;;) {
    const low = rest & 0x7f;
    rest >>= 7;
    if ((rest === 0 && (low & 0x40) === 0) || (rest === -1 && (low & 0x40) !== 0)) return [...bytes, low];
    bytes.push(low | 0x80);
  }
}

function f64(value: number): Code {
  float.setFloat64(0, value, true);
  return [0x44, ...new Uint8Array(float.buffer)];
}

const two =
  (opcode: number) =>
  (a: Code, b: Code): Code => [...a, ...b, opcode];
const one =
  (opcode: number) =>
  (a: Code): Code => [...a, opcode];

const one2 =
  (...opcode: number[]) =>
  (a: Code): Code => [...a, 0xfd, ...opcode];
const two2 =
  (...opcode: number[]) =>
  (a: Code, b: Code): Code => [...a, ...b, 0xfd, ...opcode];

/** Instructions by their effect; each returns code that leaves its result on the stack. */
export const wasm = {
  get: (local: number): Code => [0x20, ...unsigned(local)],
  set: (local: number, to: Code): Code => [...to, 0x21, ...unsigned(local)],
  tee: (local: number, to: Code): Code => [...to, 0x22, ...unsigned(local)],
  call: (index: number, a: Code): Code => [...a, 0x10, ...unsigned(index)],
  loadWord: (address: Code, offset: number): Code => [...address, 0x28, 2, ...unsigned(offset)],
  load: (address: Code, offset: number): Code => [...address, 0x2b, 3, ...unsigned(offset)],
  store: (address: Code, offset: number, value: Code): Code => [...address, ...value, 0x39, 3, ...unsigned(offset)],
  f64,
  i64: (value: number): Code => [0x42, ...signed(value)],
  add: two(0xa0),
  subtract: two(0xa1),
  multiply: two(0xa2),
  divide: two(0xa3),
  most: two(0xa5),
  size: one(0x99),
  negative: one(0x9a),
  floor: one(0x9c),
  root: one(0x9f),
  less: two(0x63),
  more: two(0x64),
  notMore: two(0x65),
  not: one(0x45),
  choose: (condition: Code, yes: Code, no: Code): Code => [...yes, ...no, ...condition, 0x1b],
  word: (value: number): Code => [0x41, ...signed(value)],
  wordAdd: two(0x6a),
  wordLess: two(0x49),
  wordMultiply: two(0x6c),
  both: two(0x71),
  /** Repeats the body as long as the condition holds. */
  whileTrue: (condition: Code, body: Code): Code => [0x03, 0x40, ...condition, 0x04, 0x40, ...body, 0x0c, 0x01, 0x0b, 0x0b],
  /** Two float64 side by side. */
  pair: one2(0x14),
  pairAdd: two2(0xf0, 0x01),
  pairMultiply: two2(0xf2, 0x01),
  loadPair: (address: Code): Code => [...address, 0xfd, 0x00, 3, 0],
  storePair: (address: Code, value: Code): Code => [...address, ...value, 0xfd, 0x0b, 3, 0],
  /** Returns a value from the function where the condition holds. */
  returnIf: (condition: Code, value: Code): Code => [...condition, 0x04, 0x40, ...value, 0x0f, 0x0b],
  longAdd: two(0x7c),
  longSubtract: two(0x7d),
  longAnd: two(0x83),
  shiftLeft: two(0x86),
  shiftRight: two(0x88),
  longLess: two(0x53),
  longMore: two(0x55),
  widen: one(0xad),
  toLong: one(0xb0),
  fromLong: one(0xb9),
  bitsOf: one(0xbd),
  ofBits: one(0xbf),
};

export const I32 = 0x7f;
export const I64 = 0x7e;
export const F64 = 0x7c;
/** Two float64 side by side. */
export const PAIR = 0x7b;

/** A function: its type, its locals after the parameters as [count, type], and its code. */
export interface FunctionCode {
  readonly parameters: readonly number[];
  readonly results: readonly number[];
  readonly locals: readonly (readonly [count: number, type: number])[];
  readonly code: Code;
  /** Name under which it is exported, if any. */
  readonly name?: string;
}

const vector = (items: readonly Code[]): Code => [...unsigned(items.length), ...items.flat()];
const section = (id: number, content: Code): Code => [id, ...unsigned(content.length), ...content];
const text = (word: string): Code => vector([...word].map((letter) => [letter.charCodeAt(0)]));

/** A module that imports its memory as "m" "m". */
export function moduleBytes(functions: readonly FunctionCode[]): Uint8Array<ArrayBuffer> {
  const types = functions.map(({ parameters, results }) => [
    0x60,
    ...vector(parameters.map((type) => [type])),
    ...vector(results.map((type) => [type])),
  ]);
  const bodies = functions.map(({ locals, code }): number[] => {
    const declared = vector(locals.map(([count, type]) => [...unsigned(count), type]));
    const length = declared.length + code.length + 1;
    const body: number[] = [...unsigned(length), ...declared];
    for (const byte of code) body.push(byte);
    body.push(0x0b);
    return body;
  });
  const exported = functions.flatMap(({ name }, index) => (name === undefined ? [] : [[...text(name), 0, ...unsigned(index)]]));
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
    ...section(1, vector(types)),
    ...section(2, vector([[...text("m"), ...text("m"), 2, 0, 1]])),
    ...section(3, vector(functions.map((_, index) => unsigned(index)))),
    ...section(7, vector(exported)),
    ...section(10, vector(bodies)),
  ]);
}
