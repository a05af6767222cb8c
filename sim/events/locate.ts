// Locates the sign change of a function of one variable inside a bracket.

/** A bracket of a sign change; `right` is on the far side. */
export interface Bracket {
  left: number;
  right: number;
}

/**
 * Narrows a bracket with crossed(right) and not crossed(left) until right - left <= tolerance. The method is false
 * position with the Illinois rule (the value at an end that does not move is halved: Dowell & Jarratt 1971, BIT 11,
 * 168-174), and a bisection every third iteration, so that three iterations at least halve the bracket.
 * @param value the guard as a function of time; valueLeft and valueRight are its values at the ends
 * @param crossed whether a guard value is on the far side
 */
export function narrow(
  bracket: Bracket,
  valueLeft: number,
  valueRight: number,
  tolerance: number,
  value: (t: number) => number,
  crossed: (value: number) => boolean,
): void {
  let fLeft = valueLeft;
  let fRight = valueRight;
  let lastMoved = 0;
  for (let round = 1; bracket.right - bracket.left > tolerance; round++) {
    const { left, right } = bracket;
    const middle = left + (right - left) / 2;
    const guess = round % 3 === 0 ? middle : left - (fLeft * (right - left)) / (fRight - fLeft);
    // Stay half the tolerance away from each end, so that the other end moves too once the root is close to one of them.
    const t = Number.isFinite(guess) ? Math.min(Math.max(guess, left + tolerance / 2), right - tolerance / 2) : middle;
    if (!(t > left && t < right)) return;
    const f = value(t);
    if (crossed(f)) {
      bracket.right = t;
      fRight = f;
      if (lastMoved === 1) fLeft /= 2;
      lastMoved = 1;
    } else {
      bracket.left = t;
      fLeft = f;
      if (lastMoved === -1) fRight /= 2;
      lastMoved = -1;
    }
  }
}
