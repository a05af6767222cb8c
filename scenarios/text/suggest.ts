// Suggestions for misspelt words: the nearest of a list of known words.

/**
 * Edit distance between two words: insertions, deletions, substitutions and transpositions of neighbours.
 * Source: Damerau 1964 (the four operations), in the restricted "optimal string alignment" form.
 */
export function editDistance(a: string, b: string): number {
  const width = b.length + 1;
  const cost: number[] = new Array<number>((a.length + 1) * width).fill(0);
  for (let i = 0; i <= a.length; i++) cost[i * width] = i;
  for (let j = 0; j <= b.length; j++) cost[j] = j;
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const replaced = cost[(i - 1) * width + j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      let best = Math.min(cost[(i - 1) * width + j]! + 1, cost[i * width + j - 1]! + 1, replaced);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        best = Math.min(best, cost[(i - 2) * width + j - 2]! + 1);
      cost[i * width + j] = best;
    }
  }
  return cost[a.length * width + b.length]!;
}

const LONGEST_WORD = 40;

/** The nearest known word within three edits (fewer for short words), or null. Letter case does not count. */
export function nearest(word: string, known: readonly string[]): string | null {
  if (word.length > LONGEST_WORD) return null;
  const lower = word.toLowerCase();
  let best: string | null = null;
  let bestSlips = Math.max(1, Math.min(3, Math.floor(lower.length / 3))) + 1;
  for (const candidate of known) {
    const distance = editDistance(lower, candidate.toLowerCase());
    if (distance < bestSlips) {
      best = candidate;
      bestSlips = distance;
    }
  }
  return best;
}

const plainWords = (text: string): readonly string[] => text.toLowerCase().match(/[\p{Letter}\d]+/gu) ?? [];

/** Known names that contain all the written words, or whose words are all among them: "dose" is in "dose ammonia". */
export function holding(written: string, known: readonly string[]): readonly string[] {
  if (written.length > 2 * LONGEST_WORD) return [];
  const words = plainWords(written);
  if (words.length === 0) return [];
  return known.filter((candidate) => {
    const own = plainWords(candidate);
    return words.every((word) => own.includes(word)) || own.every((word) => words.includes(word));
  });
}
