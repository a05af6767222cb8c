// Plays an outage run in the drawing: moves water surfaces and streams, and synchronises time line, clock and level chart.
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { drawLevels, levelFrame, levelSummary } from "../charts/levels.ts";
import { drawCutaway } from "../cutaway/draw.ts";
import { drawHandles } from "../cutaway/handles.ts";
import { layout } from "../cutaway/layout.ts";
import { stageTimes } from "../cutaway/marks.ts";
import type { Layout } from "../cutaway/places.ts";
import { type Sheet, sheetFor } from "../cutaway/sheet.ts";
import { bind, type TraceSample, traceSampleAt } from "../cutaway/state.ts";
import { puddlePath, puddleWidthM, waterRect } from "../cutaway/water.ts";
import { cutawayCaption, drawingWidth, eventList, isWide, outageSide } from "../sections/picture.ts";
import { duration, type Reader, volume } from "../view/reader.ts";
import { find, replaceContents } from "./dom.ts";
import { advance, jump, type Playback, pause, reached, seek, toggle } from "./playback.ts";
import { settleStops } from "./roving.ts";

export interface Film {
  readonly result: RunResult;
  readonly storyId: string | null;
  readonly reader: Reader;
  readonly width: number;
  /** Controls of "Try it" that the drawing offers as handles, by id. */
  readonly handles: ReadonlySet<string>;
}

export interface Player {
  show(film: Film): void;
  stop(): void;
}

/** Sets an attribute only if it changes, because a browser repaints after every assignment. */
function set(element: Element, name: string, value: string): void {
  if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

function write(element: Element, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}

/** Shows one moment in the drawing. */
type Paint = (moment: TraceSample) => void;

/** Water surfaces: the water of each vessel, its surface line and its level symbol. */
function waterPainter(svg: SVGSVGElement, plan: Layout, sheet: Sheet): Paint {
  const vessels = plan.vessels.flatMap((place) => {
    const group = svg.querySelector(`[data-water="${CSS.escape(place.id)}"]`);
    if (!group) return [];
    const sign = svg.querySelector(`[data-level="${CSS.escape(place.id)}"]`);
    return [{ place, rects: [...group.querySelectorAll("rect")], surface: find(group, ".water-surface"), sign }];
  });
  const rain = [...svg.querySelectorAll<SVGPathElement>("[data-rain]")];
  return ({ surfaceZ }) => {
    for (const { place, rects, surface, sign } of vessels) {
      const rect = waterRect(sheet, place.box, surfaceZ.get(place.id) ?? place.box.z0);
      const y = rect.y.toFixed(1);
      for (const r of rects) {
        set(r, "y", y);
        set(r, "height", rect.height.toFixed(1));
      }
      set(surface, "d", `M${rect.x.toFixed(1)},${y}h${rect.width.toFixed(1)}`);
      if (sign) set(sign, "transform", sign.getAttribute("transform")!.replace(/,[-\d.]+\)/, `,${y})`));
    }
    for (const path of rain) {
      const z = surfaceZ.get(path.dataset.rain ?? "") ?? 0;
      set(path, "d", path.getAttribute("d")!.replace(/V[-\d.]+$/, `V${Math.max(0, sheet.y(z)).toFixed(1)}`));
    }
  };
}

/** Streams in pipes, in both directions. */
function streamPainter(svg: SVGSVGElement): Paint {
  const streams = [...svg.querySelectorAll<SVGGElement>("[data-flow]")];
  return ({ flowM3PerS }) => {
    for (const element of streams) {
      const q = flowM3PerS.get(element.dataset.flow ?? "") ?? 0;
      element.classList.toggle("hidden", Math.abs(q) < 1e-7);
      element.classList.toggle("back", q < 0);
    }
  };
}

/** Water on the floor. */
function puddlePainter(svg: SVGSVGElement, plan: Layout, sheet: Sheet, reader: Reader): Paint {
  const puddle = find<SVGGElement>(svg, "[data-puddle]");
  const water = find(puddle, "path");
  const label = find(puddle, "text");
  const y = sheet.y(plan.floorZ);
  const x = sheet.x((plan.sump.x0 + plan.sump.x1) / 2);
  return ({ floorM3 }) => {
    puddle.classList.toggle("hidden", floorM3 <= 0);
    if (floorM3 <= 0) return;
    set(water, "d", puddlePath(x, y, puddleWidthM(floorM3, plan) * sheet.scale));
    write(label, `${volume(reader, floorM3)} on the floor`);
  };
}

const PLAY_ICON = "M5 3l12 7-12 7z";
const PAUSE_ICON = "M5 3h3.6v14H5zM11.4 3H15v14h-3.6z";

/** Step of an arrow key: one second, or ten with Shift [s]. */
const keyStep = (e: KeyboardEvent): number => (e.key === "ArrowRight" ? 1 : -1) * (e.shiftKey ? 10 : 1);

export function player(root: HTMLElement, onStory: (id: string) => void): Player {
  const part = <T extends Element>(selector: string): T => find<T>(root, selector);
  const host = part<HTMLElement>("[data-figure=cutaway]");
  const levelsHost = part<HTMLElement>("[data-figure=levels]");
  const side = part<HTMLElement>("[data-side]");
  const events = part<HTMLElement>("[data-events]");
  const scrub = part<HTMLInputElement>("#scrub");
  const play = part<HTMLButtonElement>("#play");
  const speed = part<HTMLSelectElement>("#speed");
  const clock = part<HTMLOutputElement>("#clock");
  let state: Playback = { s: 0, endS: 1, running: false };
  let story: OutageTrace | null = null;
  let paint: (s: number) => void = () => {};

  const times = (): readonly number[] => story?.events.map((e) => e.s) ?? [];

  /** Shows a new playback state. */
  function go(next: Playback, fromScrub = false): void {
    const before = state;
    state = next;
    if (!fromScrub) scrub.value = String(state.s);
    if (before.running !== state.running) {
      root.classList.toggle("playing", state.running);
      play.setAttribute("aria-pressed", String(state.running));
      write(find(play, "span"), state.running ? "Pause" : "Play");
      find(play, "path").setAttribute("d", state.running ? PAUSE_ICON : PLAY_ICON);
    }
    paint(state.s);
  }

  function start(): void {
    let last = performance.now();
    const frame = (t: number): void => {
      if (!state.running) return;
      go(advance(state, (t - last) / 1000, Number(speed.value)));
      last = t;
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  }

  play.addEventListener("click", () => {
    go(toggle(state));
    if (state.running) start();
  });
  part("#previous-event").addEventListener("click", () => go(jump(state, times(), -1)));
  part("#next-event").addEventListener("click", () => go(jump(state, times(), 1)));
  scrub.addEventListener("input", () => go(pause(seek(state, Number(scrub.value))), true));
  scrub.addEventListener("keydown", (e) => {
    if (e.key === " ") play.click();
    else if (e.key === "PageUp" || e.key === "PageDown") go(jump(state, times(), e.key === "PageUp" ? 1 : -1));
    else if (e.key === "ArrowLeft" || e.key === "ArrowRight") go(pause(seek(state, state.s + keyStep(e))));
    else return;
    e.preventDefault();
  });
  events.addEventListener("click", (e) => {
    const button = (e.target as Element).closest<HTMLElement>(".event-jump");
    if (button) go(pause(seek(state, Number(button.dataset.s))));
  });
  side.addEventListener("change", (e) => {
    const select = e.target as HTMLSelectElement;
    if (select.id === "story") onStory(select.value);
  });

  /** Aligns the time line below the level chart, and synchronises the clock and the list of events. */
  function timePainter(next: OutageTrace, reader: Reader, width: number): (s: number) => void {
    const frame = levelFrame(width);
    const track = part<HTMLElement>(".scrub-track");
    track.style.setProperty("padding-left", `${(frame.left / frame.width) * 100}%`);
    track.style.setProperty("padding-right", `${(frame.right / frame.width) * 100}%`);
    const line = find<SVGLineElement>(levelsHost, "[data-scrub]");
    const rows = [...events.querySelectorAll<HTMLElement>(".event-jump")];
    const at = next.events.map((e) => e.s);
    return (s) => {
      const x = (frame.left + ((frame.width - frame.left - frame.right) * s) / state.endS).toFixed(1);
      set(line, "x1", x);
      set(line, "x2", x);
      const current = reached(at, s);
      const words = `${duration(reader, s)}${current < 0 ? "" : `, ${next.events[current]!.label}`}`;
      write(clock, words);
      set(scrub, "aria-valuetext", words);
      rows.forEach((row, i) => {
        if (i === current) set(row, "aria-current", "step");
        else row.removeAttribute("aria-current");
      });
    };
  }

  function show({ result, storyId, reader, width, handles }: Film): void {
    const next = result.hydraulics.stories.find((s) => s.id === storyId) ?? result.hydraulics.stories[0];
    if (!next) return;
    const sameStory = story?.id === next.id;
    story = next;
    const endS = next.timeS.at(-1) ?? 1;
    const startS = Math.max(0, (stageTimes(next).cutS ?? 0) - 2);
    state = seek({ ...state, endS }, sameStory ? state.s : startS);
    scrub.max = String(endS);
    const plan = layout(result.rig);
    const spread = isWide(result);
    root.classList.toggle("wide", spread);
    const wide = drawingWidth(width, spread);
    const sheet = sheetFor(plan, wide);
    const binding = bind(plan, next);
    replaceContents(
      host,
      drawCutaway({
        surfaces: result.nitrogen.surfaces,
        layout: plan,
        story: next,
        moment: traceSampleAt(binding, state.s),
        reader,
        width: wide,
        prefix: "play",
        caption: cutawayCaption(result.rig, next, "Moving picture", reader),
        handles: drawHandles(result, plan, sheet, handles),
      }),
    );
    replaceContents(levelsHost, drawLevels(next, reader, width));
    replaceContents(side, outageSide(result, next, reader));
    replaceContents(events, eventList(next, reader));
    settleStops(root);
    part("[data-level-words]").textContent = levelSummary(next, reader);
    const svg = find<SVGSVGElement>(host, "svg");
    const painters = [waterPainter(svg, plan, sheet), streamPainter(svg), puddlePainter(svg, plan, sheet, reader)];
    const paintTime = timePainter(next, reader, width);
    paint = (s) => {
      const moment = traceSampleAt(binding, s);
      for (const painter of painters) painter(moment);
      paintTime(s);
    };
    go(state);
  }

  return { show, stop: () => go(pause(state)) };
}
