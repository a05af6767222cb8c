// Random scenarios through the whole program for half a minute, with a new seed each time, which is printed. A failure
// names the seed and the number; `npm run fuzz -- --seed SEED --from NUMBER --count 1` repeats it and keeps the file.
import { expect, test } from "vitest";
import { verdictOf } from "./campaign.ts";

const SECONDS = 25;
const SHARES = { matrix: 0.05, members: 0.1, page: 0.2, levels: 0.5 };

test("random scenarios give an answer, or are refused with a place or a part of the file to change", async () => {
  const seed = process.env.FUZZ_SEED ?? String(Math.floor(Math.random() * 1e9));
  const until = performance.now() + 1000 * SECONDS;
  let answered = 0;
  let index = 0;
  for (; performance.now() < until; index++) {
    const { outcome, what, text } = await verdictOf(seed, index, SHARES);
    if (outcome === "fine") answered++;
    // One in a thousand may be given up; none is expected in half a minute.
    if (outcome !== "fine" && outcome !== "invalid")
      throw new Error(`seed ${seed}, rig ${index} is ${outcome}: ${what.slice(0, 5).join("; ")}\n${text}`);
  }
  console.log(`fuzz seed ${seed}: ${answered} of ${index} random scenarios answered, the others refused with a place`);
  expect(answered).toBeGreaterThan(index / 2);
}, 180_000);
