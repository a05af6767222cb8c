// Short names for scenarios in a comparison.

/** The words with which all names begin, and the rest of each name, which is never empty. */
export function shortNames(names: readonly string[]): { readonly shared: string; readonly short: readonly string[] } {
  const words = names.map((n) => n.split(/\s+/));
  let common = 0;
  while (names.length > 1 && words.every((w) => w.length > common + 1 && w[common] === words[0]![common])) common++;
  return { shared: words[0]?.slice(0, common).join(" ") ?? "", short: words.map((w) => w.slice(common).join(" ")) };
}

/**
 * Labels of at most `most` characters that still distinguish the scenarios. A label that is too long loses the words
 * that it shares with the beginning of another one.
 */
export function shortLabels(names: readonly string[], most = 24): readonly string[] {
  const { short } = shortNames(names);
  return short.map((label, i) => {
    if (label.length <= most) return label;
    const words = label.split(/\s+/);
    const shared = short.map((other, k) => {
      if (k === i) return 0;
      const others = other.split(/\s+/);
      let n = 0;
      while (n < words.length - 1 && words[n] === others[n]) n++;
      return n;
    });
    const rest = words.slice(Math.max(...shared)).join(" ");
    const text = rest === label ? rest : `… ${rest}`;
    return text.length <= most ? text : `${text.slice(0, most - 1).trimEnd()}…`;
  });
}

/** Title of a page with a comparison. */
export function comparedTitle(names: readonly string[]): string {
  const { shared, short } = shortNames(names);
  return shared === "" ? `Compared: ${names.join("; ")}` : `${shared.replace(/[,:;]$/, "")}: ${short.join(" or ")}`;
}
