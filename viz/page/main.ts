// Brings the page to life: it is complete without this, and alive with it.
import { unpackResults } from "../packed.ts";
import { start } from "./app.ts";
import { unpack } from "./unpack.ts";

// A browser that cannot unpack keeps the page as it would be printed.
if ("DecompressionStream" in globalThis) {
  void unpack("results").then((text) => {
    if (text !== null) start(unpackResults(text));
  });
}
