// Extracts straight lines from a PDF with a PDF library, to measure printed lengths.
import { getDocument, OPS } from "pdfjs-dist/legacy/build/pdf.mjs";

/** a b c d e f of ISO 32000-1, 8.3.3. */
type Matrix = readonly [number, number, number, number, number, number];
const multiply = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[1] * n[2],
  m[0] * n[1] + m[1] * n[3],
  m[2] * n[0] + m[3] * n[2],
  m[2] * n[1] + m[3] * n[3],
  m[4] * n[0] + m[5] * n[2] + n[4],
  m[4] * n[1] + m[5] * n[3] + n[5],
];
type Point = readonly [number, number];
const apply = (m: Matrix, [x, y]: Point): Point => [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]];

export interface Segment {
  readonly from: Point;
  readonly to: Point;
}

/** Number of coordinates of each path step. */
const COORDINATES: ReadonlyMap<number, number> = new Map([
  [OPS.moveTo, 2],
  [OPS.lineTo, 2],
  [OPS.curveTo, 6],
  [OPS.curveTo2, 4],
  [OPS.curveTo3, 4],
  [OPS.closePath, 0],
  [OPS.rectangle, 4],
]);

/** Straight lines of one path, in the coordinates of the page. */
function* linesOf(steps: readonly number[], coordinates: readonly number[], now: Matrix): Generator<Segment> {
  let at: Point = [0, 0];
  let read = 0;
  for (const step of steps) {
    const count = COORDINATES.get(step);
    if (count === undefined) throw new Error(`a path step that this test does not know: ${step}`);
    const numbers = coordinates.slice(read, read + count);
    read += count;
    // A rectangle ends at its start; every other step ends at its last point.
    const end: Point = step === OPS.rectangle ? [numbers[0]!, numbers[1]!] : count > 0 ? [numbers.at(-2)!, numbers.at(-1)!] : at;
    if (step === OPS.lineTo) yield { from: apply(now, at), to: apply(now, end) };
    at = end;
  }
}

/** All straight lines on all pages [points, 1/72 inch]. */
export async function pdfSegments(pdf: Uint8Array): Promise<readonly Segment[]> {
  const segments: Segment[] = [];
  const loading = getDocument({ data: new Uint8Array(pdf), isEvalSupported: false, disableFontFace: true, verbosity: 0 });
  const document = await loading.promise;
  for (let number = 1; number <= document.numPages; number++) {
    const { fnArray, argsArray } = await (await document.getPage(number)).getOperatorList();
    const stack: Matrix[] = [];
    let now: Matrix = [1, 0, 0, 1, 0, 0];
    for (const [i, operator] of fnArray.entries()) {
      const args = argsArray[i] as readonly unknown[];
      if (operator === OPS.save) stack.push(now);
      else if (operator === OPS.restore || operator === OPS.paintFormXObjectEnd) now = stack.pop() ?? now;
      else if (operator === OPS.transform) now = multiply(args as unknown as Matrix, now);
      else if (operator === OPS.paintFormXObjectBegin) {
        stack.push(now);
        if (args[0]) now = multiply(args[0] as Matrix, now);
      } else if (operator === OPS.constructPath) segments.push(...linesOf(args[0] as number[], args[1] as number[], now));
    }
  }
  await loading.destroy();
  return segments;
}

/** Number of pages. */
export async function pdfPages(pdf: Uint8Array): Promise<number> {
  const loading = getDocument({ data: new Uint8Array(pdf), isEvalSupported: false, disableFontFace: true, verbosity: 0 });
  const { numPages } = await loading.promise;
  await loading.destroy();
  return numPages;
}
