// Locations of the built scripts: beside the built command, or in dist/ when the program runs from source.
import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";

const beside = (name: string): URL => new URL(`./${name}`, import.meta.url);
const inDist = (name: string): URL => new URL(`../dist/${name}`, import.meta.url);

function scriptText(name: string): string {
  const place = [beside(name), inDist(name)].find((url) => existsSync(url));
  if (!place) throw new Error(`${name} is missing: npm run build makes it`);
  return readFileSync(place, "utf8");
}

/** The script of the page, the model that it runs in a worker (gzipped, base64), and the licences of the packages in both. */
export const pageScripts = (): { readonly page: string; readonly worker: string; readonly notices: string } => ({
  page: scriptText("page.js"),
  worker: scriptText("page-worker.gz.txt"),
  notices: scriptText("page-notices.txt"),
});

/** The same for the drawing board. */
export const boardScripts = (): { readonly script: string; readonly worker: string; readonly notices: string } => ({
  script: scriptText("board.js"),
  worker: scriptText("board-worker.gz.txt"),
  notices: scriptText("board-notices.txt"),
});

/** The module that a worker thread of the ensemble loads. */
export const ensembleWorker = (): URL =>
  existsSync(beside("worker.js")) ? beside("worker.js") : new URL("../scenarios/run/worker.ts", import.meta.url);

/** The module that a worker thread of a study loads. */
export const studyWorker = (): URL =>
  existsSync(beside("study-worker.js")) ? beside("study-worker.js") : new URL("../scenarios/study/worker.ts", import.meta.url);

/** The module a worker thread of a forecast loads. */
export const forecastWorker = (): URL =>
  existsSync(beside("forecast-worker.js"))
    ? beside("forecast-worker.js")
    : new URL("../scenarios/forecast/worker.ts", import.meta.url);

/**
 * Identifies the code that computes the points of a study, by its bytes, because two builds of one version may give
 * different numbers. "sources" where nothing is built.
 */
export const studyBuild = (): string =>
  existsSync(beside("study-worker.js"))
    ? createHash("sha256")
        .update(readFileSync(beside("study-worker.js")))
        .digest("hex")
        .slice(0, 8)
    : "sources";

/** The module that renders the pages of a study's points. */
export const pointPageWorker = (): URL =>
  existsSync(beside("point-page-worker.js"))
    ? beside("point-page-worker.js")
    : new URL("./point-page-worker.ts", import.meta.url);
