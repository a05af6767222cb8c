// What is to be done in the course of the days, in order of time.

interface Moment {
  readonly day: number;
  readonly act: () => void;
}

/** Things to do, each at its time; of the same time, in the order they were put down. More may be put down while others are done. */
export class EventQueue {
  private readonly list: Moment[] = [];

  at(day: number, act: () => void): void {
    let i = this.list.length;
    while (i > 0 && this.list[i - 1].day > day) i--;
    this.list.splice(i, 0, { day, act });
  }

  /** Time of the next thing to do; infinity when nothing is left. */
  get nextDay(): number {
    return this.list[0]?.day ?? Number.POSITIVE_INFINITY;
  }

  doAllUntil(day: number): void {
    while (this.nextDay <= day) this.list.shift()?.act();
  }
}
