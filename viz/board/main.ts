// Starts the board with the model from the page or from a file beside it, and restores the state stored in the browser.
import { h, render } from "preact";
import * as z from "zod";
import { find } from "../page/dom.ts";
import { explainTerms } from "../page/explain.ts";
import { unpack } from "../page/unpack.ts";
import { App } from "./app.ts";
import { browserStorage } from "./model/storage.ts";
import { Store } from "./model/store.ts";
import { served } from "./served.ts";

// Otherwise the schema library tries to create code from text; the content security policy forbids it, and the console
// would report it.
z.config({ jitless: true });

let workerUrl: Promise<string> | null = null;
const urlOfWorker = (): Promise<string> => {
  workerUrl ??= unpack("worker").then((text) => URL.createObjectURL(new Blob([text ?? ""], { type: "text/javascript" })));
  return workerUrl;
};

const store = new Store(browserStorage(), urlOfWorker);
const host = find<HTMLElement>(document, "#board");

async function start(): Promise<void> {
  render(h(App, { store, served: null }), host);
  document.documentElement.classList.add("alive");
  explainTerms();
  const linked = location.hash;
  const beside = await served((text) => {
    if (text !== store.state.history.text) store.begin(text);
  });
  if (beside) render(h(App, { store, served: beside }), host);
  await store.open();
  if (linked !== "") await store.openLink(linked);
  if (document.querySelector("link[rel=manifest]")) await navigator.serviceWorker?.register("sw.js");
}

void start();
