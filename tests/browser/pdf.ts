// Reads line segments out of a printed page's PDF: enough of the page description language to measure what paper will show.
import { inflateSync } from "node:zlib";

type Matrix = readonly [number, number, number, number, number, number];
const multiply = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[1] * n[2],
  m[0] * n[1] + m[1] * n[3],
  m[2] * n[0] + m[3] * n[2],
  m[2] * n[1] + m[3] * n[3],
  m[4] * n[0] + m[5] * n[2] + n[4],
  m[4] * n[1] + m[5] * n[3] + n[5],
];
const apply = (m: Matrix, x: number, y: number): readonly [number, number] => [
  m[0] * x + m[2] * y + m[4],
  m[1] * x + m[3] * y + m[5],
];

export interface Segment {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
}

/** Straight segments of one content stream, in points (1/72 inch) of the page; ISO 32000-1, 8.2 to 8.5. */
function segmentsOf(content: string): Segment[] {
  const segments: Segment[] = [];
  const stack: Matrix[] = [];
  let now: Matrix = [1, 0, 0, 1, 0, 0];
  let at: readonly [number, number] = [0, 0];
  let numbers: number[] = [];
  for (const token of content.split(/\s+/)) {
    if (/^[-+]?[\d.]+$/.test(token)) {
      numbers.push(Number(token));
      continue;
    }
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = numbers.slice(-6);
    if (token === "q") stack.push(now);
    else if (token === "Q") now = stack.pop() ?? now;
    else if (token === "cm") now = multiply([a, b, c, d, e, f], now);
    else if (token === "m") at = apply(now, numbers.at(-2) ?? 0, numbers.at(-1) ?? 0);
    else if (token === "l") {
      const to = apply(now, numbers.at(-2) ?? 0, numbers.at(-1) ?? 0);
      segments.push({ from: at, to });
      at = to;
    }
    numbers = [];
  }
  return segments;
}

/** All straight segments of a PDF's flate streams [points]. */
export function pdfSegments(pdf: Buffer): readonly Segment[] {
  const segments: Segment[] = [];
  let at = 0;
  for (;;) {
    const start = pdf.indexOf("stream", at);
    if (start < 0) return segments;
    const body = pdf[start + 6] === 13 ? start + 8 : start + 7;
    const end = pdf.indexOf("endstream", body);
    if (end < 0) return segments;
    at = end + 9;
    if (!pdf.subarray(Math.max(0, start - 200), start).includes("FlateDecode")) continue;
    const bytes = pdf.subarray(body, end);
    // Compressed fonts and images are not text; they have no operators to find.
    const text = inflateSync(bytes, { finishFlush: 2 }).toString("latin1");
    if (/\bcm\b/.test(text)) segments.push(...segmentsOf(text));
  }
}
