// Decompresses the gzipped contents of the page: the results and the model. A browser without DecompressionStream keeps
// the static page.

import { decode85 } from "../base85.ts";

/** Text of a packed script element; null if the page has none. */
export async function unpack(id: string): Promise<string | null> {
  const packed = document.getElementById(id)?.textContent?.trim() ?? "";
  if (packed === "") return null;
  return new Response(new Blob([decode85(packed)]).stream().pipeThrough(new DecompressionStream("gzip"))).text();
}
