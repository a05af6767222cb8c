// Keys of a scenario file as a study writes them, and values set at these keys in a scenario's plain data.

export type Path = readonly (string | number)[];

/** `tank[2].rock` as steps, with list indices from 0; null when the syntax is wrong. */
export function stepsOf(key: string): Path | null {
  const steps: (string | number)[] = [];
  for (const part of key.split(".")) {
    const match = /^([^[\]]+)((?:\[\d{1,4}\])*)$/.exec(part.trim());
    if (!match) return null;
    steps.push(match[1].trim());
    for (const [, count] of match[2].matchAll(/\[(\d+)\]/g)) {
      if (count === "0") return null;
      steps.push(Number(count) - 1);
    }
  }
  return steps;
}

type Plain = Readonly<Record<string, unknown>>;
const isSection = (value: unknown): value is Plain => typeof value === "object" && value !== null && !Array.isArray(value);

/**
 * The steps as this scenario is written: where it has one section instead of a list, "[1]" means that section.
 * @returns the path, or the problem when it does not exist
 */
export function pathIn(input: unknown, steps: Path): Path | { readonly problem: string } {
  const path: (string | number)[] = [];
  let here: unknown = input;
  for (const step of steps) {
    const before = path.at(-1) ?? "";
    if (typeof step === "number") {
      if (isSection(here) && step === 0) continue;
      if (!Array.isArray(here)) return { problem: `${before} is no list in this scenario` };
      if (step >= here.length) return { problem: `${before} has only ${here.length} entries in this scenario` };
      here = here[step];
    } else {
      if (Array.isArray(here)) return { problem: `${before} is a list in this scenario: write ${before}[1].${step}` };
      if (here !== undefined && here !== null && !isSection(here))
        return { problem: `${before} is "${String(here)}" in this scenario, not a section with keys` };
      here = isSection(here) ? here[step] : undefined;
    }
    path.push(step);
  }
  return path;
}

/** A copy of the data with one value set; everything off the path is shared with the original. */
export function withValue(input: unknown, path: Path, value: unknown, at = 0): unknown {
  if (at === path.length) return value;
  const step = path[at];
  if (typeof step === "number") {
    const list = [...(input as readonly unknown[])];
    list[step] = withValue(list[step], path, value, at + 1);
    return list;
  }
  const section = isSection(input) ? input : {};
  return { ...section, [step]: withValue(section[step], path, value, at + 1) };
}
