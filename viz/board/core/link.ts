// A compressed scenario in the fragment of an address. Browsers do not send fragments to servers.

const MARK = "system=";

const through = async (bytes: Uint8Array<ArrayBuffer>, stream: CompressionStream | DecompressionStream): Promise<Uint8Array> =>
  new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());

/** The fragment, including #. */
export async function fragmentOf(text: string): Promise<string> {
  const packed = await through(new TextEncoder().encode(text), new CompressionStream("deflate-raw"));
  let letters = "";
  for (const byte of packed) letters += String.fromCharCode(byte);
  return `#${MARK}${btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "")}`;
}

/** Limit of the decompressed text, because a small fragment can expand to excessive data [characters]. */
const LONGEST = 1_000_000;

/**
 * The scenario in an address or a fragment; null when there is none.
 * @throws Error with a message for the user if it cannot be read
 */
export async function textOfLink(link: string): Promise<string | null> {
  const at = link.indexOf(MARK);
  if (at < 0) return null;
  const packed = link.slice(at + MARK.length).trim();
  const broken = new Error("The link is not whole: something of it is missing or was changed on the way.");
  if (packed === "" || !/^[\w-]+$/.test(packed)) throw broken;
  const reader = new Blob([Uint8Array.from(atob(packed.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0))])
    .stream()
    .pipeThrough(new DecompressionStream("deflate-raw"))
    .getReader();
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let text = "";
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return text + decoder.decode();
      text += decoder.decode(value, { stream: true });
      if (text.length > LONGEST) {
        await reader.cancel();
        throw broken;
      }
    }
  } catch (cause) {
    throw new Error(broken.message, { cause });
  }
}
