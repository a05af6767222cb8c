// One message for many readers. Factors: an inch is 25.4 mm and a US gallon 3.785411784 L by definition (NIST SP 811,
// appendix B); a gram of nitrogen is 3.2845 g of NO2 (molar masses, IUPAC 2021).
import { describe, expect, it } from "vitest";
import {
  concentration,
  flow,
  formatMessage,
  length,
  type MessageFormatter,
  number,
  sentence,
  temperature,
  volume,
} from "../../../scenarios/text/message.ts";

const metric: MessageFormatter = { units: "metric", locale: "en", scale: () => ({ perN: 1, name: "N" }) };
const us: MessageFormatter = { ...metric, units: "US" };
const german: MessageFormatter = { ...metric, locale: "de", scale: () => ({ perN: 3.2845, name: "NO2" }) };

describe("messages with quantities", () => {
  const lowerIt = sentence`Lower it by ${length(0.0254)}: ${volume(0.003785411784)} less, at ${temperature(25)}.`;

  it("use the reader's unit system only", () => {
    expect(formatMessage(lowerIt, metric)).toBe("Lower it by 25 mm: 3.8 L less, at 25 °C.");
    expect(formatMessage(lowerIt, us)).toBe("Lower it by 1 in: 1 US gal less, at 77 °F.");
  });

  it("use the number format and the kit scale of the reader", () => {
    expect(formatMessage(sentence`${concentration("nitrite", 1)} on day ${number(3.456, 2)}`, german)).toBe(
      "3,3 mg/L as NO2 on day 3,5",
    );
    expect(formatMessage(sentence`${concentration("nitrite", 1)}`, metric)).toBe("1 mg/L as N");
    expect(formatMessage(sentence`${concentration("nitrite", -1e-9)}`, metric)).toBe("0 mg/L as N");
    expect(formatMessage(sentence`${flow(1 / 3600)}`, german)).toBe("1000 L/h");
  });

  it("may contain plain numbers, words and other messages", () => {
    expect(formatMessage(sentence`${12345} of ${"them"}${sentence`, or ${7}`}.`, metric)).toBe("12345 of them, or 7.");
    expect(formatMessage("as it is", us)).toBe("as it is");
  });
});
