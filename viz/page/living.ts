// The interactive parts of the page: the player of the drawing, the cursors of the charts, the lesson, "Try it".
import type { SectionId } from "../body.ts";
import { type Context, focused, periodOf } from "../sections/context.ts";
import { curvePanels } from "../sections/curves.ts";
import { knobs } from "../sections/knobs.ts";
import { type Cursor, cursor } from "./cursor.ts";
import { find } from "./dom.ts";
import { type Lesson, lesson } from "./lesson.ts";
import { type Player, player } from "./player.ts";
import type { LiveParts } from "./render.ts";
import type { TryIt } from "./try-it.ts";

export interface LivingOptions {
  readonly model: () => TryIt | null;
  readonly storyId: () => string | null;
  readonly onStory: (id: string) => void;
  readonly onZoom: (factor: number, day: number | null) => void;
  /** Redraws the charts with all days. */
  readonly onLesson: () => void;
  /** Called after the tables of the charts open or close. */
  readonly onTables: () => void;
  readonly onSheets: () => void;
  /** Called after a redraw of the section of the curves. */
  readonly onCurves: (section: HTMLElement) => void;
}

export interface Living extends LiveParts {
  /** Day of the chart cursor. */
  readonly day: () => number | null;
}

export function livingParts(options: LivingOptions): Living {
  let film: Player | null = null;
  let lessons: Lesson | null = null;
  const cursors = new Map<SectionId, Cursor>();

  function showFilm(c: Context): void {
    const result = focused(c);
    const model = options.model();
    film?.show({
      result,
      storyId: options.storyId(),
      reader: c.reader,
      width: c.width,
      handles: new Set(model && c.results.length === 1 ? knobs(c.results[0]!, c.reader).map((k) => k.id) : []),
    });
  }

  function showCharts(c: Context): void {
    const panels = curvePanels(c);
    const shown = { panels, period: periodOf(c), reader: c.reader };
    for (const one of cursors.values()) one.show(shown);
    lessons?.refresh(panels, periodOf(c), c.reader);
  }

  /** Adds a cursor to the charts of a section; a closed fold has no charts. */
  function mountCursor(id: SectionId, section: HTMLElement): void {
    const stack = section.querySelector<HTMLElement>("[data-stack]");
    if (stack) cursors.set(id, cursor(stack, options.onZoom));
    else cursors.delete(id);
  }

  return {
    film: showFilm,
    charts: showCharts,
    day: () => cursors.get("curves")?.day() ?? null,
    mounted(id, section, c) {
      switch (id) {
        case "drawing":
          film?.stop();
          film = player(find<HTMLElement>(section, "[data-player]"), options.onStory);
          showFilm(c);
          break;
        case "curves":
          mountCursor(id, section);
          lessons = lesson(section, options.onLesson);
          find(section, "[data-figure=tables]").closest("details")?.addEventListener("toggle", options.onTables);
          options.onCurves(section);
          showCharts(c);
          break;
        case "drivers":
          mountCursor(id, section);
          showCharts(c);
          break;
        case "try":
          options.model()?.mount(section);
          break;
        case "sheets":
          options.onSheets();
          break;
        default:
      }
    },
  };
}
