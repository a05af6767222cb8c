// Stores the results of a study on disk as they arrive, so that a run can be stopped at any time and resumed.
import {
  closeSync,
  createReadStream,
  existsSync,
  fdatasyncSync,
  ftruncateSync,
  mkdirSync,
  openSync,
  readFileSync,
  rmSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { dirname } from "node:path";
import { createInterface } from "node:readline";
import { type Batch, batchLine, batchOf, DoneRanges } from "./batch.ts";

/** The file cannot be resumed; the message says what the user can do. */
export class StoreProblem extends Error {}

interface Header {
  readonly format: "sumpwright-points";
  readonly version: 1;
  /** Hash of the study's texts and columns. */
  readonly study: string;
  /** Version of the program that wrote the file. */
  readonly program: string;
}

/**
 * A file with a header and one line per batch, in the order of completion. Only complete lines count: a line that was
 * truncated when the machine stopped is removed when the file is opened.
 */
export class PointStore {
  readonly path: string;
  readonly done = new DoneRanges();
  private readonly width: number;
  private readonly descriptor: number;
  private readonly lock: string;

  private constructor(path: string, width: number, descriptor: number, lock: string) {
    this.path = path;
    this.width = width;
    this.descriptor = descriptor;
    this.lock = lock;
  }

  /**
   * Opens or creates the file of a study.
   * @param width number of values per point
   * @param anew discards the contents of the file
   * @throws StoreProblem when the file belongs to another study or program version, or is in use
   */
  static async open(path: string, study: string, program: string, width: number, anew = false): Promise<PointStore> {
    const lock = `${path}.lock`;
    mkdirSync(dirname(path), { recursive: true });
    takeLock(lock, path);
    if (anew) rmSync(path, { force: true });
    const header: Header = { format: "sumpwright-points", version: 1, study, program };
    const fresh = !existsSync(path);
    const descriptor = openSync(path, "a+");
    const store = new PointStore(path, width, descriptor, lock);
    try {
      if (fresh) store.put(JSON.stringify(header));
      else await store.takeUp(header);
    } catch (error) {
      store.close();
      throw error;
    }
    return store;
  }

  append(batch: Batch): void {
    if (!this.done.add({ from: batch.from, to: batch.from + batch.rows.length })) return;
    this.put(batchLine(batch));
  }

  /** All batches, in the order of completion. */
  async *batches(): AsyncGenerator<Batch> {
    let heading = true;
    for await (const line of createInterface({ input: createReadStream(this.path), crlfDelay: Number.POSITIVE_INFINITY })) {
      const batch = heading ? null : batchOf(line, this.width);
      heading = false;
      if (batch) yield batch;
    }
  }

  close(): void {
    closeSync(this.descriptor);
    rmSync(this.lock, { force: true });
  }

  private put(line: string): void {
    writeSync(this.descriptor, `${line}\n`);
    fdatasyncSync(this.descriptor);
  }

  private async takeUp(expected: Header): Promise<void> {
    let whole = 0;
    let heading = true;
    let torn = false;
    for await (const { line, end } of wholeLines(this.path)) {
      if (torn) throw new StoreProblem(`${this.path}: damaged in the middle; remove it to begin anew`);
      if (heading) {
        this.checkHeading(line, expected);
        heading = false;
      } else {
        const batch = batchOf(line, this.width);
        if (batch === null) {
          torn = true;
          continue;
        }
        if (!this.done.add({ from: batch.from, to: batch.from + batch.rows.length }))
          throw new StoreProblem(`${this.path}: a point is there twice; remove the file to begin anew`);
      }
      whole = end;
    }
    ftruncateSync(this.descriptor, whole);
    if (heading) this.put(JSON.stringify(expected));
  }

  private checkHeading(line: string, expected: Header): void {
    let found: Partial<Header> | null = null;
    try {
      found = JSON.parse(line) as Partial<Header>;
    } catch {
      // Reported below.
    }
    if (found?.format !== expected.format || found.version !== expected.version)
      throw new StoreProblem(`${this.path}: this is no file of points; move it away`);
    if (found.program !== expected.program)
      throw new StoreProblem(
        `${this.path}: these points were run by version ${found.program}, this is ${expected.program}: go on with that version, or begin anew with --anew`,
      );
    if (found.study !== expected.study)
      throw new StoreProblem(`${this.path}: the study or a file it names has changed since: begin anew with --anew`);
  }
}

/** Complete lines, each with the offset after it. */
async function* wholeLines(path: string): AsyncGenerator<{ readonly line: string; readonly end: number }> {
  let rest: Buffer = Buffer.alloc(0);
  let at = 0;
  for await (const chunk of createReadStream(path)) {
    rest = Buffer.concat([rest, chunk as Buffer]);
    let from = 0;
    for (let end = rest.indexOf(10, from); end >= 0; end = rest.indexOf(10, from)) {
      yield { line: rest.toString("utf8", from, end), end: at + end + 1 };
      from = end + 1;
    }
    at += from;
    rest = rest.subarray(from);
  }
}

/** Prevents two commands from writing one file; the lock of a process that no longer exists is ignored. */
function takeLock(lock: string, path: string): void {
  for (;;) {
    try {
      writeFileSync(lock, String(process.pid), { flag: "wx" });
      return;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
      const owner = Number(readFileSync(lock, "utf8"));
      if (owner > 0 && owner !== process.pid && isAlive(owner))
        throw new StoreProblem(`${path}: another command (process ${owner}) is working on this study`);
      rmSync(lock, { force: true });
    }
  }
}

function isAlive(processId: number): boolean {
  try {
    process.kill(processId, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
