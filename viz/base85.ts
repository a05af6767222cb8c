// Bytes as text in digits of base 85: five characters for four bytes, where base64 takes five and a third (the principle of
// the Ascii85 filter of ISO 32000-1:2008, 7.4.3, with other digits: none of them is "<" or "&", so no text can end the element
// that holds it).

const BASE = 85;
const FIRST = "(".charCodeAt(0);
/** "}" stands for the digit whose character would be "<". */
const OPENS_TAG = "<".charCodeAt(0);
const INSTEAD = "}".charCodeAt(0);

/** Text of the bytes; its length gives theirs back. */
export function encode85(bytes: Uint8Array): string {
  const digits = new Uint8Array(Math.ceil(bytes.length / 4) * 5);
  for (let i = 0, at = 0; i < bytes.length; i += 4, at += 5) {
    let value = 0;
    for (let k = 0; k < 4; k++) value = value * 256 + (bytes[i + k] ?? 0);
    for (let k = 4; k >= 0; k--) {
      const code = FIRST + (value % BASE);
      digits[at + k] = code === OPENS_TAG ? INSTEAD : code;
      value = Math.floor(value / BASE);
    }
  }
  return new TextDecoder().decode(digits.subarray(0, digits.length - ((4 - (bytes.length % 4)) % 4)));
}

/** Bytes of a text that `encode85` made. */
export function decode85(text: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(Math.ceil(text.length / 5) * 4);
  for (let i = 0, at = 0; i < text.length; i += 5, at += 4) {
    let value = 0;
    for (let k = 0; k < 5; k++) {
      const code = i + k < text.length ? text.charCodeAt(i + k) : FIRST + BASE - 1;
      value = value * BASE + (code === INSTEAD ? OPENS_TAG : code) - FIRST;
    }
    for (let k = 3; k >= 0; k--) {
      bytes[at + k] = value % 256;
      value = Math.floor(value / 256);
    }
  }
  return bytes.slice(0, Math.floor((text.length * 4) / 5));
}
