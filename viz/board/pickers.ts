// Lists to pick from, beside the fields they fill: animals by size, media, pipes by nominal size, kit scales, pump curves.
import type { ComponentChildren } from "preact";
import type { Path } from "../../scenarios/load/edits.ts";
import type { Store } from "./model/store.ts";

export interface Picked {
  readonly path: Path;
  readonly key: string;
  /** The part itself instead of one of its fields. */
  readonly whole?: boolean;
}

export function picker(_store: Store, _at: Picked): ComponentChildren {
  return null;
}
