// One self-contained HTML file from one or more results. It makes no request, and only our own hashed script and style run.
import { createHash } from "node:crypto";
import { gzipSync } from "fflate";
import type { RunResult } from "../scenarios/result/result.ts";
import { encode85 } from "./base85.ts";
import { body, indexBody } from "./body.ts";
import { packResults } from "./packed.ts";
import { forecast as forecastLooks } from "./style/forecast.ts";
import { stylesheet } from "./style/index.ts";
import { h, toHtml } from "./view/markup.ts";
import { comparedTitle } from "./view/names.ts";
import { readerOf } from "./view/reader.ts";

/** Options of `render`. */
export interface RenderOptions {
  /** Title of a page with several scenarios; by default the scenario's own name. */
  readonly title?: string;
  /** Locale of the number format until the reader's browser gives its own; BCP 47. */
  readonly locale?: string;
}

export interface PageOptions extends RenderOptions {
  /** Script of the Web Worker that runs the model in the page, gzipped, base64; without it the page has no "Try it". */
  readonly worker?: string;
  /** Licences of the packages in the scripts. */
  readonly notices?: string;
}

/**
 * Escapes text so that it cannot end <script> or <style>. This precedes hashing, so that the hash is of the text that
 * the browser sees.
 */
const inlineScript = (text: string): string => text.replace(/<(?=\/script|!--|script)/gi, "\\x3c");
const sha256 = (text: string): string => `'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`;

/** Gzipped. Does not use Node's own zlib, whose output differs between processors. */
const zipped = (text: string): Uint8Array => gzipSync(Buffer.from(text, "utf8"), { level: 9, mtime: 0 });

/**
 * Unpacks and runs the page's script. Its hash is in the content policy. With 'strict-dynamic' (Content Security Policy
 * 3, 8.2) its trust extends to the script element that it creates, and to nothing else.
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
  /** Additional styles of this kind of page. */
  readonly looks?: string;
}

/** A complete HTML file around the content of a page. */
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
    // The model may compile its inner loops to WebAssembly.
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
${data === "" ? "" : `<script type="application/gzip" id="results">${encode85(zipped(data))}</script>`}
${worker === "" ? "" : `<script type="application/gzip" id="worker">${encode85(Buffer.from(worker, "base64"))}</script>`}
${notices === "" ? "" : `<script type="text/plain" id="licences">\n${inlineScript(notices)}</script>`}
${pageScript === "" ? "" : `<script type="application/gzip" id="page">${Buffer.from(zipped(pageScript)).toString("base64")}</script>`}
<script>${script}</script>
</body>
</html>
`;
}

/**
 * The page of one scenario, or of several that are compared on the same axes.
 * @param results at least one
 * @param pageScript bundled text of viz/page/main.ts; "" gives a static page
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
    // What the page learns from readings looks as in a forecast.
    ...(options.worker === undefined ? {} : { worker: options.worker, looks: forecastLooks }),
    ...(options.notices === undefined ? {} : { notices: options.notices }),
  });
}

export interface IndexEntry {
  readonly href: string;
  readonly result: RunResult;
}

/** A page that lists several pages with the most urgent sentence of each. */
export function renderIndex(entries: readonly IndexEntry[]): string {
  return htmlDocument({ title: "Scenarios · Sumpwright", content: toHtml(indexBody(entries)) });
}
