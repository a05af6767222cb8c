// Converts user input on the page to actions: units, scale, focus, readings, zoom, folds, addresses.
import type { Basis, UnitSystem } from "../view/reader.ts";
import type { Action } from "./state.ts";

export interface ControlOptions {
  readonly dispatch: (action: Action) => void;
  readonly zoom: (factor: number) => void;
  readonly playFaults: (ids: readonly string[]) => void;
  readonly present: () => void;
  readonly saveReadings: () => void;
  readonly learn: () => void;
}

/** Opens the fold that contains the target of an address; the target may not exist before. */
export function openAddress(hash: string, dispatch: (action: Action) => void): void {
  const id = decodeURIComponent(hash.replace(/^#/, ""));
  if (id === "") return;
  const fold = id.startsWith("term-") ? "glossary" : IN_METHOD.has(id) ? "method" : id;
  if (!document.querySelector(`[data-fold="${CSS.escape(fold)}"]`)) return;
  dispatch({ type: "fold", id: fold, open: true });
  document.getElementById(id)?.scrollIntoView();
}

/** Addresses inside the fold of the method. */
const IN_METHOD: ReadonlySet<string> = new Set(["assumptions", "equations", "scenario-file"]);

const ZOOMS: Readonly<Record<string, number>> = { in: 0.5, out: 2, all: 0 };

/** Adds the event listeners of the page. */
export function listenForControls({ dispatch, zoom, playFaults, present, saveReadings, learn }: ControlOptions): void {
  document.addEventListener("click", (e) => {
    const target = e.target as Element;
    const button = target.closest<HTMLElement>("button");
    if (button?.dataset.faults) playFaults(button.dataset.faults.split("|"));
    if (button?.dataset.zoom) zoom(ZOOMS[button.dataset.zoom] ?? 1);
    if (button?.id === "present") present();
    if (button?.id === "readings-save") saveReadings();
    if (button?.id === "readings-learn") learn();
    const link = target.closest<HTMLAnchorElement>('a[href^="#"]');
    if (link) openAddress(link.hash, dispatch);
  });

  document.addEventListener("change", (e) => {
    const input = e.target as HTMLInputElement;
    if (input.name === "units") dispatch({ type: "units", units: input.value as UnitSystem });
    else if (input.name === "basis") dispatch({ type: "basis", basis: input.value as Basis });
    else if (input.id === "focus") dispatch({ type: "focus", focus: Number(input.value) });
  });

  document.addEventListener("submit", (e) => {
    const form = e.target as HTMLFormElement;
    if (form.id !== "readings") return;
    e.preventDefault();
    const data = new FormData(form);
    const reading = { what: String(data.get("what")), day: Number(data.get("day")), value: Number(data.get("value")) };
    dispatch({ type: "reading", reading });
  });
  document.addEventListener("reset", (e) => {
    if ((e.target as HTMLFormElement).id === "readings") dispatch({ type: "readings", readings: [] });
  });

  // The toggle event of a fold does not bubble, so listen in the capture phase.
  document.addEventListener(
    "toggle",
    (e) => {
      const details = e.target as HTMLElement;
      const id = details.parentElement?.dataset.fold;
      if (id && details instanceof HTMLDetailsElement) dispatch({ type: "fold", id, open: details.open });
    },
    true,
  );

  addEventListener("hashchange", () => openAddress(location.hash, dispatch));
}
