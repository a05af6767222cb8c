// The logo image that a scenario names, as a data URL: the page contains it and never requests it.
import { existsSync, readFileSync, realpathSync, statSync } from "node:fs";
import { dirname, isAbsolute, relative, resolve, sep } from "node:path";
import { BadInput } from "./cli-input.ts";

const LARGEST_BYTES = 200_000;

/** Magic numbers of the image formats that every browser supports (PNG specification 5.2, JFIF 1.02, RIFF container of WebP). */
const KINDS: readonly { readonly type: string; readonly matches: (bytes: Buffer) => boolean }[] = [
  { type: "image/png", matches: (b) => b.subarray(0, 8).equals(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) },
  { type: "image/jpeg", matches: (b) => b[0] === 0xff && b[1] === 0xd8 && b[2] === 0xff },
  {
    type: "image/webp",
    matches: (b) => b.toString("latin1", 0, 4) === "RIFF" && b.toString("latin1", 8, 12) === "WEBP",
  },
];

/**
 * @param scenarioFile the logo must be in its folder or below, so that a scenario from elsewhere cannot embed other
 * files in a page
 * @throws BadInput when the logo is outside that folder, missing, too large or no image
 */
export function logoAddress(scenarioFile: string, logo: string): string {
  const folder = resolve(dirname(scenarioFile));
  const path = resolve(folder, logo);
  const complain = (problem: string): never => {
    throw new BadInput(`${scenarioFile}: firm.logo: ${logo}: ${problem}`);
  };
  if (isAbsolute(logo)) complain("write a path from the scenario's own folder");
  if (!existsSync(path)) return complain("there is no such file beside the scenario");
  const inside = relative(realpathSync(folder), realpathSync(path));
  if (inside.startsWith(`..${sep}`) || inside === ".." || isAbsolute(inside)) complain("it is not in the scenario's folder");
  const stats = statSync(path);
  if (!stats.isFile()) complain("this is not a file");
  if (stats.size > LARGEST_BYTES) complain(`it is larger than ${LARGEST_BYTES / 1000} kB`);
  const bytes = readFileSync(path);
  const kind = KINDS.find(({ matches }) => matches(bytes));
  return kind ? `data:${kind.type};base64,${bytes.toString("base64")}` : complain("this is no PNG, JPEG or WebP image");
}
