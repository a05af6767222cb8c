// Entry of the page script. The page is complete without it; the script makes it interactive.
import { unpackResults } from "../packed.ts";
import { start } from "./app.ts";
import { unpack } from "./unpack.ts";

// A browser without decompression keeps the static page.
if ("DecompressionStream" in globalThis) {
  void unpack("results").then((text) => {
    if (text !== null) start(unpackResults(text));
  });
}
