// Decompresses the gzipped contents of the page: the results and the model. A browser without DecompressionStream keeps
// the static page.

/** Text of a packed script element; null if the page has none. */
export async function unpack(id: string): Promise<string | null> {
  const packed = document.getElementById(id)?.textContent?.trim() ?? "";
  if (packed === "") return null;
  const bytes = Uint8Array.from(atob(packed), (c) => c.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).text();
}
