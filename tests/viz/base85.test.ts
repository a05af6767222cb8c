// Bytes survive base 85, and its text can stand in a page.

import { expect, it } from "vitest";
import { decode85, encode85 } from "../../viz/base85.ts";
import fc from "../fast-check.ts";

it("gives back any bytes, in text that cannot end an element, at five characters for four bytes", () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
      const text = encode85(bytes);
      expect(decode85(text)).toEqual(bytes);
      expect(text).not.toMatch(/[<&\s]/);
      expect(text.length).toBe(Math.ceil((bytes.length * 5) / 4));
    }),
  );
});

// By hand: 2^32 - 1 = (((82·85 + 23)·85 + 54)·85 + 12)·85 + 0.
it("writes the highest four bytes as the digits 82, 23, 54, 12 and 0", () => {
  expect([...encode85(new Uint8Array([255, 255, 255, 255]))].map((c) => c.charCodeAt(0) - 40)).toEqual([82, 23, 54, 12, 0]);
});
