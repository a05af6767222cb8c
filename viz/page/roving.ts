// Roving tabindex: one Tab stop for a group of buttons; the arrow keys move inside it, in a table in both directions.

const focusable = (host: Element): HTMLElement[] => [...host.querySelectorAll<HTMLElement>("button:not(:disabled)")];

/** Index of the button that an arrow key moves to, with `perRow` buttons in a row; unchanged at an end. */
export function nextIndex(key: string, index: number, count: number, perRow: number): number | null {
  const to = (wanted: number): number => (wanted < 0 || wanted >= count ? index : wanted);
  switch (key) {
    case "ArrowRight":
      return to(index + 1);
    case "ArrowLeft":
      return to(index - 1);
    case "ArrowDown":
      return to(index + perRow);
    case "ArrowUp":
      return to(index - perRow);
    case "Home":
      return 0;
    case "End":
      return count - 1;
    default:
      return null;
  }
}

/** The button in the next row of the same column, or the last of that row; rows of a triangular table differ in length. */
function inTable(key: string, from: HTMLElement): HTMLElement | null {
  const cell = from.closest("td");
  const row = cell?.closest("tr");
  if (!cell || !row || (key !== "ArrowUp" && key !== "ArrowDown")) return null;
  const other = (key === "ArrowUp" ? row.previousElementSibling : row.nextElementSibling) as HTMLTableRowElement | null;
  const target = other?.cells[cell.cellIndex]?.querySelector<HTMLElement>("button");
  return target ?? (other ? (focusable(other).at(-1) ?? null) : null);
}

/** Makes a button the Tab stop of its group. */
function stopAt(host: Element, button: HTMLElement): void {
  for (const other of focusable(host)) other.tabIndex = other === button ? 0 : -1;
}

/** Handles the arrow keys in every present and future group of the page. */
export function listenForArrows(root: HTMLElement): void {
  const groupOf = (e: Event): Element | null => (e.target as Element).closest("[data-roving],[data-matrix]");
  root.addEventListener("keydown", (e) => {
    const host = groupOf(e);
    const from = e.target as HTMLElement;
    if (!host || from.tagName !== "BUTTON") return;
    const buttons = focusable(host);
    const index = nextIndex(e.key, buttons.indexOf(from), buttons.length, 1);
    const next = (host.matches("[data-matrix]") && inTable(e.key, from)) || (index === null ? null : buttons[index]);
    if (!next) return;
    e.preventDefault();
    stopAt(host, next);
    next.focus();
  });
  root.addEventListener("focusin", (e) => {
    const host = groupOf(e);
    if (host && (e.target as Element).tagName === "BUTTON") stopAt(host, e.target as HTMLElement);
  });
}

/** Makes the first button the Tab stop of each group without exactly one stop. Call after drawing. */
export function settleStops(root: ParentNode): void {
  for (const host of root.querySelectorAll("[data-roving],[data-matrix]")) {
    const buttons = focusable(host);
    const first = buttons.find((b) => b.tabIndex === 0) ?? buttons[0];
    if (first) stopAt(host, first);
  }
}
