// The board as one HTML file with script, styles and model inside. Its content policy allows no request and no script
// made from text.
import { createHash } from "node:crypto";
import { encode85 } from "./base85.ts";
import { boardStyle } from "./board/view/style.ts";
import { stylesheet } from "./style/index.ts";

export interface BoardPage {
  /** Bundled text of viz/board/main.ts. */
  readonly script: string;
  /** Bundled text of viz/board/model/worker.ts, gzipped, base64. */
  readonly worker: string;
  /** Licences of the packages in both. */
  readonly notices: string;
  /**
   * file: one file that works from disk or any server; served: the command `open` provides and saves the scenario;
   * hosted: with a manifest and a service worker beside it.
   */
  readonly kind: "file" | "served" | "hosted";
}

const inlineScript = (text: string): string => text.replace(/<(?=\/script|!--|script)/gi, "\\x3c");
const sha256 = (text: string): string => `'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`;

export function boardPage({ script, worker, notices, kind }: BoardPage): string {
  const inline = inlineScript(script);
  const style = stylesheet + boardStyle;
  const policy = [
    "default-src 'none'",
    // The model may compile its inner loops to WebAssembly; no text ever becomes script.
    `script-src ${sha256(inline)} 'wasm-unsafe-eval'`,
    `style-src ${sha256(style)}`,
    "img-src data: blob:",
    kind === "hosted" ? "worker-src blob: 'self'; manifest-src 'self'; connect-src 'self'" : "worker-src blob:",
    ...(kind === "served" ? ["connect-src 'self'"] : []),
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  return `<!DOCTYPE html>
<html lang="en" class="board-page"${kind === "served" ? ' data-served=""' : ""}>
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="Sumpwright">
<meta name="color-scheme" content="light dark">
<meta name="referrer" content="no-referrer">
<title>Drawing board · Sumpwright</title>
${kind === "hosted" ? '<link rel="manifest" href="manifest.webmanifest">\n' : ""}<style>${style}</style>
</head>
<body>
<script type="text/plain" id="licences">\n${inlineScript(notices)}</script>
<div id="board"><noscript><main><h1>Sumpwright: drawing board</h1><p>The drawing board needs JavaScript: it runs the simulation here, in your browser.</p></main></noscript></div>
<script type="application/gzip" id="worker">${encode85(Buffer.from(worker, "base64"))}</script>
<script>${inline}</script>
</body>
</html>
`;
}

const ICON = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 64"><path fill="#f6f2e8" d="M0 0h64v64H0z"/><path fill="#bcd8df" d="M14 34h36v14H14z"/><path fill="none" stroke="#1b2730" stroke-width="4" d="M14 16v32h36V16"/></svg>`;

/** Files beside the hosted page that make it installable and let it work offline. */
export function hostedFiles(page: string): Readonly<Record<string, string>> {
  const version = createHash("sha256").update(page).digest("hex").slice(0, 16);
  return {
    "index.html": page,
    "icon.svg": ICON,
    "manifest.webmanifest": JSON.stringify({
      name: "Sumpwright drawing board",
      short_name: "Sumpwright",
      start_url: "./",
      scope: "./",
      display: "standalone",
      background_color: "#f6f2e8",
      theme_color: "#f6f2e8",
      icons: [{ src: "icon.svg", sizes: "any", type: "image/svg+xml", purpose: "any" }],
    }),
    "sw.js": `// Keeps this one page for days without a network. A new version takes over when the page is opened next.
const CACHE = "sumpwright-${version}";
const FILES = ["./", "manifest.webmanifest", "icon.svg"];
addEventListener("install", (e) => e.waitUntil(caches.open(CACHE).then((c) => c.addAll(FILES)).then(() => skipWaiting())));
addEventListener("activate", (e) => e.waitUntil(caches.keys().then((keys) => Promise.all(keys.filter((k) => k.startsWith("sumpwright-") && k !== CACHE).map((k) => caches.delete(k)))).then(() => clients.claim())));
addEventListener("fetch", (e) => {
  if (e.request.method !== "GET" || new URL(e.request.url).origin !== location.origin) return;
  e.respondWith(caches.match(e.request, { ignoreSearch: true }).then((kept) => kept ?? fetch(e.request)));
});
`,
  };
}
