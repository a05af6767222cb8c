// Plays a story in the drawing: moves water surfaces and streams, keeps scrubber, clock and level chart in step.
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { drawLevels, levelFrame, levelSummary } from "../charts/levels.ts";
import { drawCutaway } from "../cutaway/draw.ts";
import { layout } from "../cutaway/layout.ts";
import { moments } from "../cutaway/marks.ts";
import { sheetFor } from "../cutaway/sheet.ts";
import { bind, momentAt } from "../cutaway/state.ts";
import { puddlePath, puddleWidthM, waterRect } from "../cutaway/water.ts";
import { cutawayCaption, drawingWidth, eventList, isWide, storySide } from "../sections/picture.ts";
import { duration, type Reader, volume } from "../view/reader.ts";
import { find, replaceContents } from "./dom.ts";

export interface Player {
  show(result: RunResult, storyId: string | null, reader: Reader, width: number): void;
  /** Story that the drawing is about. */
  readonly story: () => OutageTrace | null;
  stop(): void;
}

/** Longest step of the animation, so that a sleeping tab does not jump to the end [s of real time]. */
const LONGEST_FRAME_S = 0.1;

/** What does not change is not touched: a browser paints anew whatever is set. */
function set(element: Element, name: string, value: string): void {
  if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

function write(element: Element, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}

export function player(root: HTMLElement, onStory: (id: string) => void): Player {
  const host = find<HTMLElement>(root, "[data-figure=cutaway]");
  const levelsHost = find<HTMLElement>(root, "[data-figure=levels]");
  const side = find<HTMLElement>(root, "[data-side]");
  const events = find<HTMLElement>(root, "[data-events]");
  const scrub = find<HTMLInputElement>(root, "#scrub");
  const play = find<HTMLButtonElement>(root, "#play");
  const speed = find<HTMLSelectElement>(root, "#speed");
  const clock = find<HTMLOutputElement>(root, "#clock");
  const words = find<HTMLElement>(root, "[data-level-words]");
  let now = 0;
  let end = 1;
  let running = false;
  let last = 0;
  let story: OutageTrace | null = null;
  let paint: (s: number) => void = () => {};

  function setTime(s: number, fromScrub = false): void {
    now = Math.min(end, Math.max(0, s));
    if (!fromScrub) scrub.value = String(now);
    paint(now);
  }

  function setRunning(on: boolean): void {
    running = on;
    root.classList.toggle("playing", on);
    play.setAttribute("aria-pressed", String(on));
    find(play, "span").textContent = on ? "Pause" : "Play";
    find(play, "path").setAttribute("d", on ? "M5 3h3.6v14H5zM11.4 3H15v14h-3.6z" : "M5 3l12 7-12 7z");
    if (on) {
      last = performance.now();
      requestAnimationFrame(frame);
    }
  }

  function frame(t: number): void {
    if (!running) return;
    const dt = Math.min(LONGEST_FRAME_S, (t - last) / 1000);
    last = t;
    setTime(now + dt * Number(speed.value));
    if (now >= end) setRunning(false);
    else requestAnimationFrame(frame);
  }

  function jump(direction: 1 | -1): void {
    if (!story) return;
    const times = [0, ...story.events.map((e) => e.s), end];
    const next = direction > 0 ? times.find((s) => s > now + 0.05) : [...times].reverse().find((s) => s < now - 0.05);
    setRunning(false);
    setTime(next ?? (direction > 0 ? end : 0));
  }

  play.addEventListener("click", () => {
    if (!running && now >= end - 1e-6) setTime(0);
    setRunning(!running);
  });
  find(root, "#previous-event").addEventListener("click", () => jump(-1));
  find(root, "#next-event").addEventListener("click", () => jump(1));
  scrub.addEventListener("input", () => {
    setRunning(false);
    setTime(Number(scrub.value), true);
  });
  scrub.addEventListener("keydown", (e) => {
    if (e.key === " ") {
      e.preventDefault();
      play.click();
    } else if (e.key === "PageUp" || e.key === "PageDown") {
      e.preventDefault();
      jump(e.key === "PageUp" ? 1 : -1);
    } else if (e.key === "ArrowLeft" || e.key === "ArrowRight") {
      // A range with step "any" would move by a hundredth of its span; a second is what a watch shows.
      e.preventDefault();
      setRunning(false);
      setTime(now + (e.key === "ArrowRight" ? 1 : -1) * (e.shiftKey ? 10 : 1));
    }
  });
  events.addEventListener("click", (e) => {
    const button = (e.target as Element).closest<HTMLElement>(".event-jump");
    if (!button) return;
    setRunning(false);
    setTime(Number(button.dataset.s));
  });
  side.addEventListener("change", (e) => {
    const select = e.target as HTMLSelectElement;
    if (select.id === "story") onStory(select.value);
  });

  function show(result: RunResult, storyId: string | null, forReader: Reader, width: number): void {
    const next = result.hydraulics.stories.find((s) => s.id === storyId) ?? result.hydraulics.stories[0];
    if (!next) return;
    const sameStory = story?.id === next.id;
    story = next;
    end = next.timeS.at(-1) ?? 1;
    const { cutS } = moments(next);
    if (!sameStory) now = Math.max(0, Math.min(end, (cutS ?? 0) - 2));
    now = Math.min(now, end);
    scrub.max = String(end);
    const plan = layout(result.rig);
    const spread = isWide(result);
    root.classList.toggle("wide", spread);
    const wide = drawingWidth(width, spread);
    const sheet = sheetFor(plan, wide);
    const binding = bind(plan, next);
    replaceContents(
      host,
      drawCutaway(
        result,
        plan,
        next,
        momentAt(binding, now),
        forReader,
        wide,
        "play",
        cutawayCaption(result, next, "Moving picture"),
      ),
    );
    replaceContents(levelsHost, drawLevels(next, forReader, width));
    replaceContents(side, storySide(result, next, forReader));
    replaceContents(events, eventList(next, forReader));
    words.textContent = levelSummary(next, forReader);

    const frame = levelFrame(width);
    const track = find<HTMLElement>(root, ".scrub-track");
    track.style.setProperty("padding-left", `${(frame.left / frame.width) * 100}%`);
    track.style.setProperty("padding-right", `${(frame.right / frame.width) * 100}%`);
    const scrubLine = find<SVGLineElement>(levelsHost, "[data-scrub]");
    const svg = find<SVGSVGElement>(host, "svg");
    const water = plan.vessels.flatMap((place) => {
      const group = svg.querySelector(`[data-water="${CSS.escape(place.id)}"]`);
      return group
        ? [
            {
              place,
              rects: [...group.querySelectorAll("rect")],
              surface: find(group, ".water-surface"),
              sign: svg.querySelector(`[data-level="${CSS.escape(place.id)}"]`),
            },
          ]
        : [];
    });
    const streams = [...svg.querySelectorAll<SVGGElement>("[data-flow]")].map((element) => ({
      element,
      id: element.dataset.flow ?? "",
    }));
    const rain = [...svg.querySelectorAll<SVGPathElement>("[data-rain]")];
    const puddle = find<SVGGElement>(svg, "[data-puddle]");
    const puddleWater = find(puddle, "path");
    const puddleLabel = find(puddle, "text");
    const puddleY = sheet.y(plan.floorZ);
    const puddleX = sheet.x((plan.sump.x0 + plan.sump.x1) / 2);
    const rows = [...events.querySelectorAll<HTMLElement>(".event-jump")];

    paint = (s) => {
      const moment = momentAt(binding, s);
      for (const { place, rects, surface, sign } of water) {
        const rect = waterRect(sheet, place.box, moment.surfaceZ.get(place.id) ?? place.box.z0);
        const y = rect.y.toFixed(1);
        for (const r of rects) {
          set(r, "y", y);
          set(r, "height", rect.height.toFixed(1));
        }
        set(surface, "d", `M${rect.x.toFixed(1)},${y}h${rect.width.toFixed(1)}`);
        if (sign) set(sign, "transform", sign.getAttribute("transform")!.replace(/,[-\d.]+\)/, `,${y})`));
      }
      for (const { element, id } of streams) {
        const q = moment.flowM3PerS.get(id) ?? 0;
        element.classList.toggle("hidden", Math.abs(q) < 1e-7);
        element.classList.toggle("back", q < 0);
      }
      for (const path of rain) {
        const z = moment.surfaceZ.get(path.dataset.rain ?? "") ?? 0;
        set(path, "d", path.getAttribute("d")!.replace(/V[-\d.]+$/, `V${Math.max(0, sheet.y(z)).toFixed(1)}`));
      }
      puddle.classList.toggle("hidden", moment.floorM3 <= 0);
      if (moment.floorM3 > 0) {
        set(puddleWater, "d", puddlePath(puddleX, puddleY, puddleWidthM(moment.floorM3, plan) * sheet.scale));
        write(puddleLabel, `${volume(forReader, moment.floorM3)} on the floor`);
      }
      const x = frame.left + ((frame.width - frame.left - frame.right) * s) / end;
      set(scrubLine, "x1", x.toFixed(1));
      set(scrubLine, "x2", x.toFixed(1));
      const reached = next.events.filter((e) => e.s <= s + 0.05).at(-1);
      const words = `${duration(forReader, s)}${reached ? `, ${reached.label}` : ""}`;
      write(clock, words);
      set(scrub, "aria-valuetext", words);
      const current = reached ? next.events.indexOf(reached) : -1;
      rows.forEach((row, i) => {
        if (i === current) set(row, "aria-current", "step");
        else row.removeAttribute("aria-current");
      });
    };
    setTime(now);
  }

  return { show, story: () => story, stop: () => setRunning(false) };
}
