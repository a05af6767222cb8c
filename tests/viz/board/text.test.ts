// Helpers of the text pane: position of the caret, and links that contain a scenario.
import { describe, expect, test } from "vitest";
import { caretPlace, helpAt, suggestions } from "../../../viz/board/core/complete.ts";
import { fragmentOf, textOfLink } from "../../../viz/board/core/link.ts";
import fc from "../../fast-check.ts";
import { anyScenario } from "../../fuzz/random-scenario.ts";

const TEXT = `sumpwright: 1
name: x
tank:
  - name: left
    overflow:
      kind: drilled
      drains:
        - { kind: open, bore: 40 mm }
sump: { outside: 60 x 35 x 40 cm, water: 18 cm, chambers: [{ name: a, role: return }] }
timeline:
  - { at: day 3, do: water change, share: 30 % }
`;
/** Position of the caret, marked by | in a part of the text. */
const at = (marked: string) => {
  const plain = marked.replace("|", "");
  const start = TEXT.indexOf(plain);
  expect(start, marked).toBeGreaterThanOrEqual(0);
  return caretPlace(TEXT, start + marked.indexOf("|"));
};

describe("the caret", () => {
  test.each([
    ["na|me: x", [], null, "na"],
    ["name: x|", [], "name", "x"],
    ["na|me: left", ["tank", 0], null, "na"],
    ["kind: dr|illed", ["tank", 0, "overflow"], "kind", "dr"],
    ["bo|re: 40 mm", ["tank", 0, "overflow", "drains", 0], null, "bo"],
    ["bore: 4|0 mm", ["tank", 0, "overflow", "drains", 0], "bore", "4"],
    ["wat|er: 18", ["sump"], null, "wat"],
    ["ro|le: return", ["sump", "chambers", 0], null, "ro"],
    ["do: water ch|ange", ["timeline", 0], "do", "water ch"],
  ] as const)("%s", (marked, path, key, typed) => {
    expect(at(marked)).toMatchObject({ path, key, typed });
  });

  test("gets the keys that the format allows there, with range and default", () => {
    const keys = suggestions(at("wat|er: 18")).map(({ text }) => text);
    expect(keys).toContain("baffles: ");
    expect(keys).not.toContain("tank: ");
    expect(suggestions(at("kind: dr|illed")).map(({ text }) => text)).toEqual(["drilled", "hang-on", "standpipe"]);
    expect(suggestions(at("do: water ch|ange")).map(({ text }) => text)).toContain("power cut");
    const gravel = suggestions(at("na|me: left")).find(({ text }) => text === "gravel: ")!;
    expect(gravel.detail).toBe("length, 0 mm to 500 mm; else 30 mm");
  });

  test("help under the pointer comes from the format", () => {
    expect(helpAt(TEXT, TEXT.indexOf("bore") + 1)?.about).toMatch(/inner diameter/);
    expect(helpAt(TEXT, TEXT.indexOf("40 mm"))).toBeNull();
  });
});

describe("a link", () => {
  test("restores any scenario unchanged", async () => {
    await fc.assert(
      fc.asyncProperty(anyScenario(), async ({ text }) => {
        expect(await textOfLink(`https://example.org/board${await fragmentOf(text)}`)).toBe(text);
      }),
      { numRuns: 30 },
    );
    expect(await textOfLink("https://example.org/#elsewhere")).toBeNull();
  });

  test("that was truncated or changed is reported", async () => {
    const whole = await fragmentOf(TEXT);
    for (const broken of [whole.slice(0, -9), `${whole.slice(0, 30)}!${whole.slice(31)}`, "#system="])
      await expect(textOfLink(broken)).rejects.toThrow(/not whole/);
  });

  test("that unpacks to excessive data is rejected", async () => {
    await expect(textOfLink(await fragmentOf("a".repeat(3_000_000)))).rejects.toThrow(/not whole/);
  });
});
