// Characters that do not show: they could clear a terminal, turn a line round, or start a line of their own in a calendar.

/**
 * Control characters (Unicode category Cc), marks that turn the direction of text or show nothing (Cf, apart from the two joiners
 * that scripts and emoji need), separators of lines and paragraphs, and halves of surrogate pairs.
 */
const UNSEEN = /(?![\u200c\u200d])[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/u;
const ALL_UNSEEN = new RegExp(UNSEEN, "gu");

const codePoint = (character: string): string => character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0");

/** Text for one line of a message: every character that does not show becomes `\u{...}`. */
export const visible = (text: string): string => text.replace(ALL_UNSEEN, (character) => `\\u{${codePoint(character)}}`);

/** The same with one sign for each unit of the text, so that a caret below still points at its place. */
export const pictured = (text: string): string =>
  text.replace(ALL_UNSEEN, (character) => {
    const code = character.codePointAt(0)!;
    const sign = code < 0x20 ? String.fromCodePoint(0x2400 + code) : code === 0x7f ? "\u2421" : "\ufffd";
    return sign.repeat(character.length);
  });

/** The first character that a name may not have, where it is, and how it is called; null when all is well. */
export function unseenIn(
  text: string,
  allowed = "",
): { readonly offset: number; readonly length: number; readonly name: string } | null {
  for (const { 0: character, index } of text.matchAll(ALL_UNSEEN)) {
    if (!allowed.includes(character)) return { offset: index, length: character.length, name: `U+${codePoint(character)}` };
  }
  return null;
}
