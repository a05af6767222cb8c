// The command `open`: serves the drawing board to this machine only, watches the given file, and saves it on request.
import { execFile } from "node:child_process";
import { randomBytes, timingSafeEqual } from "node:crypto";
import { readFileSync, renameSync, rmSync, watch, writeFileSync } from "node:fs";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { basename, dirname, join, resolve } from "node:path";
import { boardScripts } from "./assets.ts";
import { boardPage } from "./board-page.ts";
import { BadInput } from "./cli-input.ts";
import { complain, EXIT, type Exit, say } from "./cli-terminal.ts";

export interface OpenOptions {
  /** Whether to start the browser. */
  readonly browser: boolean;
}

/** A scenario has at most a million characters of at most four bytes each. */
const LONGEST_BODY = 4_000_000;
const SETTLE_MS = 60;

const headers = (type: string): Record<string, string> => ({
  "content-type": type,
  "cache-control": "no-store",
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cross-origin-resource-policy": "same-origin",
});

function answer(response: ServerResponse, code: number, body: string, type = "text/plain; charset=utf-8"): void {
  response.writeHead(code, headers(type));
  response.end(body);
}

async function bodyOf(request: IncomingMessage): Promise<string | null> {
  const chunks: Buffer[] = [];
  let length = 0;
  for await (const chunk of request as AsyncIterable<Buffer>) {
    length += chunk.length;
    if (length > LONGEST_BODY) return null;
    chunks.push(chunk);
  }
  return Buffer.concat(chunks).toString("utf8");
}

const same = (a: string, b: string): boolean => a.length === b.length && timingSafeEqual(Buffer.from(a), Buffer.from(b));

/** Writes to a temporary file and renames it, so that the file is complete at every moment. */
function writeWhole(path: string, text: string): void {
  const aside = join(dirname(path), `.${basename(path)}.${process.pid}`);
  try {
    writeFileSync(aside, text);
    renameSync(aside, path);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  }
}

function readOr(path: string): string {
  try {
    return readFileSync(path, "utf8");
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw new BadInput(
      `${path}: ${code === "ENOENT" ? "there is no such file" : code === "EISDIR" ? "this is a folder" : String(code)}`,
    );
  }
}

/** Starts the default browser; where there is none, the user still has the printed address. */
function startBrowser(url: string): void {
  const [program, args]: readonly [string, readonly string[]] =
    process.platform === "darwin" ? ["open", [url]] : process.platform === "win32" ? ["explorer", [url]] : ["xdg-open", [url]];
  execFile(program, args, () => undefined);
}

/**
 * Serves the board until Ctrl-C. It listens only on 127.0.0.1, on a port that the system chooses. Every path begins
 * with a token that only the printed address contains, and requests with another host are refused, so that no page of
 * another site can reach it.
 */
export async function open(file: string | undefined, options: OpenOptions): Promise<Exit> {
  const path = file === undefined ? null : resolve(file);
  let known = path === null ? "" : readOr(path);
  const token = randomBytes(18).toString("base64url");
  const page = boardPage({ ...boardScripts(), kind: "served" });
  const listeners = new Set<ServerResponse>();

  async function serve(request: IncomingMessage, response: ServerResponse, port: number): Promise<void> {
    if (request.headers.host !== `127.0.0.1:${port}`) return answer(response, 403, "another host");
    const { origin } = request.headers;
    if (origin !== undefined && origin !== `http://127.0.0.1:${port}`) return answer(response, 403, "another page");
    const [, given = "", what = ""] = (request.url ?? "").replace(/[?#].*/, "").split("/");
    if (!same(given, token)) return answer(response, 404, "there is nothing here");
    const asked = `${request.method} ${what}`;
    if (asked === "GET ") return answer(response, 200, page, "text/html; charset=utf-8");
    if (asked === "GET file") {
      if (path !== null) known = readOr(path);
      return answer(
        response,
        200,
        JSON.stringify({ name: path === null ? null : basename(path), text: known }),
        "application/json",
      );
    }
    if (asked === "GET changes") {
      response.writeHead(200, { ...headers("text/event-stream"), connection: "keep-alive" });
      response.write(": here\n\n");
      listeners.add(response);
      request.on("close", () => listeners.delete(response));
      return;
    }
    if (asked === "PUT file") {
      if (path === null) return answer(response, 409, "no file was given on the command line");
      const text = await bodyOf(request);
      if (text === null) return answer(response, 413, "this is longer than a scenario may be");
      try {
        writeWhole(path, text);
      } catch (error) {
        return answer(response, 500, `the file cannot be written (${(error as NodeJS.ErrnoException).code ?? String(error)})`);
      }
      known = text;
      say(`Saved ${path}`);
      return answer(response, 200, "");
    }
    return answer(response, 404, "there is nothing here");
  }

  let port = 0;
  const server = createServer((request, response) => {
    serve(request, response, port).catch((error: unknown) => {
      complain(error instanceof Error ? error.message : String(error));
      if (!response.headersSent) answer(response, 500, "the file cannot be read");
    });
  });
  await new Promise<void>((ready, fail) => {
    server.once("error", fail);
    server.listen(0, "127.0.0.1", ready);
  });
  ({ port } = server.address() as AddressInfo);
  const url = `http://127.0.0.1:${port}/${token}/`;

  let timer: NodeJS.Timeout | undefined;
  // Watch the folder, because editors replace a file by a new one.
  const watcher =
    path === null
      ? null
      : watch(dirname(path), (_, name) => {
          if (name !== basename(path)) return;
          clearTimeout(timer);
          timer = setTimeout(() => {
            try {
              const text = readFileSync(path, "utf8");
              if (text === known) return;
              known = text;
              for (const listener of listeners) listener.write(`data: ${JSON.stringify(text)}\n\n`);
            } catch (error) {
              complain(
                `${path} cannot be read now (${(error as NodeJS.ErrnoException).code ?? String(error)}); the board keeps what it has.`,
              );
            }
          }, SETTLE_MS);
        });

  say(`The drawing board: ${url}`);
  say("It is reachable from this machine only. Stop it with Ctrl-C.");
  if (options.browser) startBrowser(url);
  return await new Promise<Exit>((done) => {
    const stop = (): void => {
      watcher?.close();
      clearTimeout(timer);
      for (const listener of listeners) listener.end();
      server.close(() => done(EXIT.fine));
      server.closeAllConnections();
    };
    process.once("SIGINT", stop);
    process.once("SIGTERM", stop);
  });
}
