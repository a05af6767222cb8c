// Downloads of the page: images, tables, the result, the scenario, the calendar.
import type { RunResult } from "../../scenarios/result/result.ts";
import { csvFiles } from "../csv.ts";
import { calendarFile } from "../sheets/calendar-file.ts";
import type { Reader } from "../view/reader.ts";
import { dateOf } from "./calendar.ts";
import { fileName, png, saveFile, standaloneSvg } from "./files.ts";

export interface Shown {
  /** The result that the sheets show. */
  readonly result: RunResult;
  /** All results on the page. */
  readonly results: readonly RunResult[];
  readonly reader: Reader;
}

export interface Takeaway {
  /** Shows the dates of the calendar after the reader has set the date of day 0. */
  showDates(): void;
}

/** Adds the listeners of the download buttons. */
export function takeaway(main: HTMLElement, shown: () => Shown): Takeaway {
  let dayZero = "";

  function showDates(): void {
    const input = document.querySelector<HTMLInputElement>("#day-zero");
    if (input && dayZero !== "") input.value = dayZero;
    for (const cell of document.querySelectorAll<HTMLElement>("td.date"))
      cell.textContent = dayZero === "" ? "" : dateOf(dayZero, Number(cell.dataset.day), shown().reader.locale);
  }

  function saveData(what: string): void {
    const { result, results } = shown();
    const table = csvFiles(result).find((t) => what === `csv-${t.suffix}`);
    if (table) saveFile(fileName(`${result.name} ${table.suffix}`, "csv"), table.text, "text/csv");
    else if (what === "json") saveFile(fileName(result.name, "json"), JSON.stringify(results, null, 1), "application/json");
    else if (what === "scenario") saveFile(result.file.split(/[\\/]/).at(-1) ?? "scenario.yaml", result.source, "text/yaml");
    else if (what === "ics") {
      if (dayZero === "") dayZero = new Date().toISOString().slice(0, 10);
      showDates();
      saveFile(fileName(result.name, "ics"), calendarFile(result, dayZero), "text/calendar");
    }
  }

  function saveImage(id: string, kind: string): void {
    const name = CSS.escape(id);
    const svg = main.querySelector<SVGSVGElement>(`[data-figure="panel:${name}"] svg, [data-figure="${name}"] svg`);
    if (!svg) return;
    const title = `${shown().result.name} ${id}`;
    if (kind === "svg") saveFile(fileName(title, "svg"), standaloneSvg(svg), "image/svg+xml");
    else void png(svg).then((image) => saveFile(fileName(title, "png"), image));
  }

  document.addEventListener("click", (e) => {
    const button = (e.target as Element).closest<HTMLElement>("button");
    if (!button) return;
    const { data, save } = button.dataset;
    if (data) saveData(data);
    if (save) saveImage(button.closest<HTMLElement>("[data-export]")?.dataset.export ?? "", save);
  });
  document.addEventListener("change", (e) => {
    const input = e.target as HTMLInputElement;
    if (input.id !== "day-zero") return;
    dayZero = input.value;
    showDates();
  });

  return { showDates };
}
