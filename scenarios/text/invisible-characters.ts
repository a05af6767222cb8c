// Invisible characters. In a message they could clear a terminal or reverse a line; in a calendar file they could start
// a new line.

/**
 * Control characters (Unicode category Cc), invisible and direction marks (Cf, except the two joiners that scripts and
 * emoji need), line and paragraph separators, and lone surrogates.
 */
const UNSEEN = /(?![\u200c\u200d])[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/u;
const ALL_UNSEEN = new RegExp(UNSEEN, "gu");

const codePoint = (character: string): string => character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0");

/** Text for one line of a message: every invisible character becomes `\u{...}`. */
export const visible = (text: string): string => text.replace(ALL_UNSEEN, (character) => `\\u{${codePoint(character)}}`);

/** The same, with one visible sign per UTF-16 unit, so that a caret under the text still points at the right place. */
export const pictured = (text: string): string =>
  text.replace(ALL_UNSEEN, (character) => {
    const code = character.codePointAt(0)!;
    const sign = code < 0x20 ? String.fromCodePoint(0x2400 + code) : code === 0x7f ? "\u2421" : "\ufffd";
    return sign.repeat(character.length);
  });

/** Place and name of the first invisible character that is not in `allowed`; null when there is none. */
export function unseenIn(
  text: string,
  allowed = "",
): { readonly offset: number; readonly length: number; readonly name: string } | null {
  for (const { 0: character, index } of text.matchAll(ALL_UNSEEN)) {
    if (!allowed.includes(character)) return { offset: index, length: character.length, name: `U+${codePoint(character)}` };
  }
  return null;
}
