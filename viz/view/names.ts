// Short names for scenarios that are compared: what they share is said once.

/** Words that all names begin with, and what is left of each; names that would be left empty or alone are kept whole. */
export function shortNames(names: readonly string[]): { readonly shared: string; readonly short: readonly string[] } {
  const words = names.map((n) => n.split(/\s+/));
  let common = 0;
  while (names.length > 1 && words.every((w) => w.length > common + 1 && w[common] === words[0]![common])) common++;
  return { shared: words[0]?.slice(0, common).join(" ") ?? "", short: words.map((w) => w.slice(common).join(" ")) };
}

/** Title of a page that compares. */
export function comparedTitle(names: readonly string[]): string {
  const { shared, short } = shortNames(names);
  return shared === "" ? `Compared: ${names.join("; ")}` : `${shared.replace(/[,:;]$/, "")}: ${short.join(" or ")}`;
}
