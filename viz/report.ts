// One self-contained HTML file from one or more results: everything is in it, nothing is fetched, only our own hashed script and style run.
import { createHash } from "node:crypto";
import { gzipSync } from "fflate";
import type { RunResult } from "../scenarios/result/result.ts";
import { body, indexBody } from "./body.ts";
import { packResults } from "./packed.ts";
import { stylesheet } from "./style/index.ts";
import { h, toHtml } from "./view/markup.ts";
import { comparedTitle } from "./view/names.ts";
import { readerOf } from "./view/reader.ts";

/** What `render` may be told. */
export interface RenderOptions {
  /** Title of a page that holds several scenarios; the scenario's own name otherwise. */
  readonly title?: string;
  /** Where the numbers' decimal marks come from before the reader's browser says; BCP 47. */
  readonly locale?: string;
}

export interface PageOptions extends RenderOptions {
  /** Script of the Web Worker that runs the model in the page, gzipped and in base64; without it the page has no "Try it". */
  readonly worker?: string;
  /** Licences of the packages in the scripts. */
  readonly notices?: string;
}

/** Text that may stand inside <script> or <style> without ending it. Done before hashing, so that the hash is of what the browser sees. */
const inlineScript = (text: string): string => text.replace(/<(?=\/script|!--|script)/gi, "\\x3c");
const sha256 = (text: string): string => `'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`;

/**
 * Gzipped and in base64: a third of the size, and no text in it can end the script element. Not by Node's own zlib, which gives other
 * bytes on other processors.
 */
const packed = (text: string): string =>
  Buffer.from(gzipSync(Buffer.from(text, "utf8"), { level: 9, mtime: 0 })).toString("base64");

/**
 * Unpacks the page's script and runs it. Its hash is in the page's policy, and with 'strict-dynamic' (Content Security Policy 3, 8.2) that
 * trust passes on to the script that it makes, and to nothing else.
 */
const LOADER = `(async()=>{
const packed=document.getElementById("page");
if(!packed||!("DecompressionStream" in globalThis))return;
const bytes=Uint8Array.from(atob(packed.textContent.trim()),(c)=>c.charCodeAt(0));
const text=await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).text();
const script=document.createElement("script");
script.src=URL.createObjectURL(new Blob([text],{type:"text/javascript"}));
document.head.append(script);
})();`;

interface Parts {
  readonly title: string;
  readonly content: string;
  readonly script?: string;
  readonly data?: string;
  readonly worker?: string;
  readonly notices?: string;
  /** Style of this kind of page, after that of all pages. */
  readonly looks?: string;
}

/** A whole file around the content of a page. */
export function htmlDocument({
  title,
  content,
  script: pageScript = "",
  data = "",
  worker = "",
  notices = "",
  looks = "",
}: Parts): string {
  const script = pageScript === "" ? "" : LOADER;
  const style = stylesheet + looks;
  const policy = [
    "default-src 'none'",
    // The model may compile its hot loops to WebAssembly.
    `script-src ${sha256(script)}${script === "" ? "" : " 'strict-dynamic'"}${worker === "" ? "" : " 'wasm-unsafe-eval'"}`,
    `style-src ${sha256(style)}`,
    "img-src data: blob:",
    worker === "" ? "worker-src 'none'" : "worker-src blob:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  const head = toHtml([
    h("meta", { charset: "utf-8" }),
    h("meta", { "http-equiv": "Content-Security-Policy", content: policy }),
    h("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
    h("meta", { name: "generator", content: "Sumpwright" }),
    h("meta", { name: "color-scheme", content: "light dark" }),
    h("title", {}, title),
  ]);
  return `<!DOCTYPE html>
<html lang="en">
<head>
${head}
<style>${style}</style>
</head>
<body>
${content}
${data === "" ? "" : `<script type="application/gzip" id="results">${packed(data)}</script>`}
${worker === "" ? "" : `<script type="application/gzip" id="worker">${worker}</script>`}
${notices === "" ? "" : `<script type="text/plain" id="licences">\n${inlineScript(notices)}</script>`}
${pageScript === "" ? "" : `<script type="application/gzip" id="page">${packed(pageScript)}</script>`}
<script>${script}</script>
</body>
</html>
`;
}

/**
 * The page of one scenario, or of several compared on the same axes.
 * @param results at least one
 * @param pageScript the bundled text of viz/page/main.ts; "" gives a page that only shows and prints
 * @throws Error when `results` is empty
 */
export function renderPage(results: readonly RunResult[], pageScript: string, options: PageOptions = {}): string {
  const first = results[0];
  if (!first) throw new Error("a page needs at least one result");
  const title = options.title ?? (results.length === 1 ? first.name : comparedTitle(results.map((r) => r.name)));
  const context = { results, focus: 0, reader: readerOf(first, options.locale ?? "en"), width: 1100, changed: null };
  return htmlDocument({
    title: `${title} · Sumpwright`,
    content: toHtml(body(context, title)),
    script: pageScript,
    data: packResults(results),
    ...(options.worker === undefined ? {} : { worker: options.worker }),
    ...(options.notices === undefined ? {} : { notices: options.notices }),
  });
}

export interface IndexEntry {
  readonly href: string;
  readonly result: RunResult;
}

/** A page that lists many pages with their most urgent sentence. */
export function renderIndex(entries: readonly IndexEntry[]): string {
  return htmlDocument({ title: "Scenarios · Sumpwright", content: toHtml(indexBody(entries)) });
}
