// Dragging a handle of the drawing moves its control of "Try it". The keyboard has the control itself.

/** Value of a control after its handle has moved by some CSS pixels. */
export function draggedValue(
  startValue: number,
  pixelsDown: number,
  drawing: { readonly unitsPerPixel: number; readonly metresPerUnitUp: number },
  control: { readonly perMetre: number; readonly min: number; readonly max: number; readonly step: number },
): number {
  const metresUp = -pixelsDown * drawing.unitsPerPixel * drawing.metresPerUnitUp;
  const value = startValue + metresUp * control.perMetre;
  const stepped = Math.round(value / control.step) * control.step;
  return Math.min(control.max, Math.max(control.min, Number(stepped.toPrecision(12))));
}

/** Units per metre, by the unit of the control. */
const PER_METRE: Readonly<Record<string, number>> = { mm: 1000, in: 1 / 0.0254 };

/** Handles drags in every drawing of the page. @param move called with the control and its new value during the drag */
export function listenForDrags(root: HTMLElement, move: (id: string, value: string) => void): void {
  root.addEventListener("pointerdown", (e) => {
    const handle = (e.target as Element).closest<SVGGElement>("[data-handle]");
    const id = handle?.dataset.handle;
    const control = id ? document.querySelector<HTMLInputElement>(`#knob-${CSS.escape(id)}`) : null;
    const svg = handle?.closest<SVGSVGElement>("svg");
    if (!handle || !id || !control || !svg) return;
    e.preventDefault();
    const startY = e.clientY;
    const startValue = Number(control.value);
    const drawing = {
      unitsPerPixel: svg.viewBox.baseVal.width / svg.getBoundingClientRect().width,
      metresPerUnitUp: Number(handle.dataset.metres),
    };
    const limits = {
      perMetre: PER_METRE[control.dataset.unit ?? ""] ?? 1000,
      min: Number(control.dataset.min),
      max: Number(control.dataset.max),
      step: Number(control.dataset.step),
    };
    let last = control.value;
    const follow = (to: PointerEvent): void => {
      const value = String(draggedValue(startValue, to.clientY - startY, drawing, limits));
      if (value === last) return;
      last = value;
      move(id, value);
    };
    const end = (): void => {
      removeEventListener("pointermove", follow);
      removeEventListener("pointerup", end);
      removeEventListener("pointercancel", end);
    };
    addEventListener("pointermove", follow);
    addEventListener("pointerup", end);
    addEventListener("pointercancel", end);
  });
}
