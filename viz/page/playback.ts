// Playback of an outage run as data: position and navigation. No browser code.

export interface Playback {
  /** Playback position [s]. */
  readonly s: number;
  readonly endS: number;
  readonly running: boolean;
}

/** Longest step of the animation, so that an inactive tab does not jump to the end [s of real time]. */
const LONGEST_FRAME_S = 0.1;

/** A position within this distance of an event counts as at the event [s]. */
const AT_EVENT_S = 0.05;

export const seek = (p: Playback, s: number): Playback => ({ ...p, s: Math.min(p.endS, Math.max(0, s)) });

export const pause = (p: Playback): Playback => (p.running ? { ...p, running: false } : p);

/** Starts, from the beginning if the playback has ended, or stops. */
export const toggle = (p: Playback): Playback =>
  p.running ? pause(p) : { ...(p.s >= p.endS - 1e-6 ? seek(p, 0) : p), running: true };

/** Advances by some seconds of real time at a speed; stops at the end. */
export function advance(p: Playback, realS: number, speed: number): Playback {
  if (!p.running) return p;
  const next = seek(p, p.s + Math.min(LONGEST_FRAME_S, Math.max(0, realS)) * speed);
  return next.s >= p.endS ? pause(next) : next;
}

/** Moves to the next or previous event, or to the start or end, and stops. */
export function jump(p: Playback, events: readonly number[], direction: 1 | -1): Playback {
  const times = [0, ...events, p.endS];
  const next = direction > 0 ? times.find((s) => s > p.s + AT_EVENT_S) : [...times].reverse().find((s) => s < p.s - AT_EVENT_S);
  return pause(seek(p, next ?? (direction > 0 ? p.endS : 0)));
}

/** Index of the last event at or before `s`; -1 before the first. */
export function reached(events: readonly number[], s: number): number {
  let last = -1;
  events.forEach((at, i) => {
    if (at <= s + AT_EVENT_S) last = i;
  });
  return last;
}
