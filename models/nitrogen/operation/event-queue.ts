// The queue of pending events of a run, by time.

interface PendingEvent {
  readonly day: number;
  readonly act: () => void;
}

/** Actions with their times. Actions at one time run in the order in which they were added; an action may add others. */
export class EventQueue {
  private readonly list: PendingEvent[] = [];

  at(day: number, act: () => void): void {
    let i = this.list.length;
    while (i > 0 && this.list[i - 1].day > day) i--;
    this.list.splice(i, 0, { day, act });
  }

  /** Time of the next action; infinity when none is left. */
  get nextDay(): number {
    return this.list[0]?.day ?? Number.POSITIVE_INFINITY;
  }

  doAllUntil(day: number): void {
    while (this.nextDay <= day) this.list.shift()?.act();
  }
}
