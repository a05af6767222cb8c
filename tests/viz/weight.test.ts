// How much a page weighs with everything in it, so that it can be sent by mail: faults, pairs and bands of the heaviest shipped scenarios.
import { expect, it } from "vitest";
import type { RunResult } from "../../scenarios/result/result.ts";
import { pageScripts } from "../../viz/assets.ts";
import { renderPage } from "../../viz/report.ts";
import { shippedResult } from "../shipped-results.ts";

it.each(["client-750", "four-tanks-one-sump", "community-few, community-all-at-once, community-in-four-lots"])(
  "%s: one page under a megabyte (some 15 s)",
  async (names) => {
    const results: RunResult[] = [];
    for (const name of names.split(", ")) results.push(await shippedResult(`${name}.yaml`));
    const { page, ...carried } = pageScripts();
    expect(Buffer.byteLength(renderPage(results, page, carried))).toBeLessThan(1_000_000);
  },
  180_000,
);
