import { describe, expect, test } from "vitest";
import { massPerN, readingsOf } from "../../../scenarios/text/nitrogen-basis.ts";
import { parseClock, parseDay, parseSize } from "../../../scenarios/text/sizes.ts";
import { KINDS, type Kind, parseQuantity } from "../../../scenarios/text/units.ts";
import fc from "../../fast-check.ts";

/**
 * Exact definitions, not computed by the project. SI brochure (litre, minute, hour, day); NIST SP 811 (2008) appendix B: inch 0.0254 m,
 * foot 0.3048 m, pound 0.45359237 kg, US gallon 3.785411784 L, cubic foot 28.316846592 L; UK Weights and Measures Act 1985: gallon 4.54609 L.
 */
const EXACT: readonly (readonly [unit: string, kind: Kind, factor: number])[] = [
  ["mm", "length", 0.001],
  ["cm", "length", 0.01],
  ["m", "length", 1],
  ["in", "length", 0.0254],
  ['"', "length", 0.0254],
  ["ft", "length", 0.3048],
  ["L", "volume", 0.001],
  ["ml", "volume", 1e-6],
  ["m3", "volume", 1],
  ["cm³", "volume", 1e-6],
  ["US gal", "volume", 3.785411784e-3],
  ["us gallons", "volume", 3.785411784e-3],
  ["imp gal", "volume", 4.54609e-3],
  ["L/h", "flow", 1e-3 / 3600],
  ["lph", "flow", 1e-3 / 3600],
  ["L/min", "flow", 1e-3 / 60],
  ["m3/h", "flow", 1 / 3600],
  ["US gph", "flow", 3.785411784e-3 / 3600],
  ["US gal/h", "flow", 3.785411784e-3 / 3600],
  ["US gpm", "flow", 3.785411784e-3 / 60],
  ["imp gph", "flow", 4.54609e-3 / 3600],
  ["cfm", "flow", 0.028316846592 / 60],
  ["m2", "area", 1],
  ["cm^2", "area", 1e-4],
  ["ft²", "area", 0.09290304],
  ["g", "mass", 1],
  ["kg", "mass", 1000],
  ["lb", "mass", 453.59237],
  ["oz", "mass", 28.349523125],
  ["g/day", "mass per day", 1],
  ["mg/d", "mass per day", 0.001],
  ["oz per week", "mass per day", 28.349523125 / 7],
  ["s", "duration", 1],
  ["min", "duration", 60],
  ["h", "duration", 3600],
  ["days", "duration", 86400],
  ["weeks", "duration", 604800],
  ["W", "power", 1],
  ["kW", "power", 1000],
  ["m2/m3", "specific surface", 1],
  ["ft2/ft3", "specific surface", 1 / 0.3048],
  ["rpm", "turning", 1],
  ["%", "share", 0.01],
  ["ppt", "salinity", 1],
  ["mg/L", "concentration", 1],
  ["ppm", "concentration", 1],
  ["µg/L", "concentration", 0.001],
  ["meq/L", "alkalinity", 1],
];

const inUnit = (text: string, kind: Kind): number => {
  const read = parseQuantity(text, kind);
  if (!read.ok) throw new Error(`${text}: ${read.problem}`);
  return read.value;
};

describe("factors", () => {
  test.each(EXACT)("%s (%s) has its exact factor", (unit, kind, factor) => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 9999, noNaN: true }), (x) => {
        const written = x.toFixed(6);
        const expected = Number(written) * factor;
        expect(Math.abs(inUnit(`${written} ${unit}`, kind) - expected)).toBeLessThanOrEqual(1e-14 * Math.abs(expected) + 1e-300);
      }),
      { numRuns: 50 },
    );
  });

  test("temperatures by their definition: 0 °C is 32 °F is 273.15 K, 100 °C is 212 °F", () => {
    for (const text of ["0 C", "0 °C", "32 F", "32 °F", "32 degF", "273.15 K"])
      expect(inUnit(text, "temperature")).toBeCloseTo(0, 12);
    for (const text of ["100C", "212 °F"]) expect(inUnit(text, "temperature")).toBeCloseTo(100, 12);
    expect(inUnit("-40 F", "temperature")).toBeCloseTo(-40, 12);
  });

  test("alkalinity: 1 dKH is 17.85 mg/L CaCO3 is 0.357 meq/L (common practice, no published source)", () => {
    expect(inUnit("1 dKH", "alkalinity")).toBeCloseTo(0.357, 3);
    expect(inUnit("17.85 mg/L CaCO3", "alkalinity") / inUnit("1 dKH", "alkalinity")).toBeCloseTo(1, 3);
    expect(inUnit("150 ppm", "alkalinity")).toBe(inUnit("150 mg/L as CaCO3", "alkalinity"));
  });

  test("sea water of 35 g/kg has a specific gravity of 1.0264 at 25 °C (density of sea water, EOS-80)", () => {
    expect(inUnit("1.0264 sg", "salinity")).toBeCloseTo(35, 0);
  });
});

describe("numbers as people write them", () => {
  test.each([
    ["3/4 in", 0.75],
    ["1 1/2 in", 1.5],
    ["1-1/2 in", 1.5],
    ["1½ in", 1.5],
    ["⅝ in", 0.625],
    ['1 1/2"', 1.5],
    ["5 ft 3 in", 63],
    ["5' 3\"", 63],
    ["5 ft 3 1/4 in", 63.25],
    ["  12in ", 12],
    [".5 in", 0.5],
    ["1e1 in", 10],
  ])("%s is %f inches", (text, inches) => {
    expect(inUnit(text, "length")).toBeCloseTo(inches * 0.0254, 12);
  });

  test("hours and minutes add up", () => expect(inUnit("1 h 30 min", "duration")).toBe(5400));

  test("any mixed fraction equals its decimal", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 99 }),
        fc.integer({ min: 1, max: 63 }),
        fc.constantFrom(2, 4, 8, 16, 32, 64),
        (whole, over, under) => {
          const text = whole === 0 ? `${over}/${under} in` : `${whole} ${over}/${under} in`;
          expect(inUnit(text, "length")).toBeCloseTo((whole + over / under) * 0.0254, 12);
        },
      ),
    );
  });
});

describe("refused quantities and the place of the error", () => {
  test.each([
    ["75 gal", "volume", "gal", /US \(3\.785 L\) or imperial \(4\.546 L\)/],
    ["600 gph", "flow", "gph", /US .* or imperial/],
    ["12 mmm", "length", "mmm", /did you mean "mm"/],
    ["12 L", "length", "L", /not a unit of length/],
    ["25 C", "length", "C", /unknown unit/],
    ["1,5 mm", "length", ",", /use a point for decimals: write 1\.5$/],
    ["0,300 m", "length", ",", /use a point for decimals: write 0\.300$/],
    ["1,500 mm", "length", ",", /a comma may mean decimals or thousands: write 1\.500 or 1500$/],
    ["3 mm 2 m", "length", " 2 m", /two quantities/],
    ["1e999 m", "length", "1e999", /too large/],
    ["3/0 in", "length", "3/0", /cannot be over zero/],
    ["150 mg/L", "alkalinity", "mg/L", /CaCO3/],
    ["3 mg/L as NH5", "concentration", "as NH5", /not a way to count nitrogen/],
    ["25 °X", "temperature", "°X", /°C or 77 °F/],
    ["tall", "length", "tall", /number is missing/],
  ] as const)("%s as %s points at %s", (text, kind, culprit, problem) => {
    const read = parseQuantity(text, kind);
    if (read.ok) throw new Error("should have been refused");
    expect(read.problem).toMatch(problem);
    expect(text.slice(read.offset, read.offset + read.length)).toBe(culprit);
  });

  test("no input makes the parser throw or return NaN", () => {
    const kinds = Object.keys(KINDS) as Kind[];
    const alphabet = fc.constantFrom(..."0123456789./-+e ½¾'\"°µ²³%,xX×LUSgalphmindftCFKHNO");
    fc.assert(
      fc.property(fc.array(alphabet, { maxLength: 30 }), fc.constantFrom(...kinds), (letters, kind) => {
        const text = letters.join("");
        const read = parseQuantity(text, kind);
        if (read.ok) expect(Number.isFinite(read.value)).toBe(true);
        else {
          expect(read.offset).toBeGreaterThanOrEqual(0);
          expect(read.offset).toBeLessThanOrEqual(text.length);
          expect(read.length).toBeGreaterThan(0);
        }
        parseSize(text, 3);
        parseDay(text);
        parseClock(text);
      }),
      { numRuns: 3000 },
    );
  });
});

describe("sizes and times", () => {
  test("one unit applies to all lengths, or each has its own", () => {
    for (const text of ["48 x 18 x 21 in", "48in × 18in × 21in", "4 ft x 1 1/2 ft x 21 in"]) {
      const size = parseSize(text, 3);
      if (!size.ok) throw new Error(size.problem);
      expect(size.metres.map((m) => m / 0.0254)).toEqual([48, 18, 21].map((x) => expect.closeTo(x, 9)));
    }
    expect(parseSize("48 x 18 in", 3).ok).toBe(false);
    expect(parseSize("48 x 18 x 21", 3).ok).toBe(false);
  });

  test("days and clock times", () => {
    expect(parseDay("day 3")).toEqual({ ok: true, day: 3 });
    expect(parseDay("day 3 18:00")).toEqual({ ok: true, day: 3.75 });
    expect(parseDay("week 2")).toEqual({ ok: true, day: 14 });
    expect(parseDay("3").ok).toBe(false);
    expect(parseDay("day 3 24:00").ok).toBe(false);
    expect(parseClock("06:30")).toEqual({ ok: true, hour: 6.5 });
  });
});

describe("the basis of a test kit", () => {
  /** Factors from nitrogen, atomic weights N 14.007, H 1.008, O 15.999 (IUPAC): 17.031, 18.039, 46.005 and 62.004 over 14.007. */
  test.each([
    ["NH3", 1.2159],
    ["NH4", 1.2879],
    ["NO2", 3.2844],
    ["NO3", 4.4266],
    ["TAN", 1],
    ["NO3-N", 1],
  ] as const)("1 mg N/L reads %s %f", (basis, factor) => {
    expect(massPerN(basis)).toBeCloseTo(factor, 3);
  });

  test("the same water on two kits (common practice, no published source): as N 1.0 / 0.5 / 10, as ions about 1.3 / 1.6 / 44", () => {
    expect(1.0 * massPerN("NH4")).toBeCloseTo(1.3, 1);
    expect(0.5 * massPerN("NO2")).toBeCloseTo(1.6, 1);
    expect(10 * massPerN("NO3")).toBeCloseTo(44, 0);
  });

  test("1 of ammonia on a kit's scale becomes 2.55 to 2.70 of nitrite and 3.44 to 3.64 of nitrate", () => {
    expect(massPerN("NO2") / massPerN("NH4")).toBeCloseTo(2.55, 2);
    expect(massPerN("NO2") / massPerN("NH3")).toBeCloseTo(2.7, 2);
    expect(massPerN("NO3") / massPerN("NH4")).toBeCloseTo(3.44, 2);
    expect(massPerN("NO3") / massPerN("NH3")).toBeCloseTo(3.64, 2);
  });

  test("a leaflet without a basis is interpreted both ways", () => {
    expect(readingsOf("nitrite", "unknown")).toEqual(["NO2-N", "NO2"]);
    expect(readingsOf("nitrite", "NO2")).toEqual(["NO2"]);
  });
});
