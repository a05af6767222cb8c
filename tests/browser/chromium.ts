// Finds a browser for the tests: CHROME if set, otherwise that of the development packages, otherwise that of the system.
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium } from "playwright-core";

const project = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const packageFolder = join(project, "node_modules/@sparticuz/chromium");
const SYSTEM_BROWSERS = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"] as const;

/**
 * Unpacks the packaged browser into the project's cache, once for each version, and returns its folder. It is unpacked beside
 * the target and then renamed, so that two simultaneous test runs do not damage it. The package takes its location from TMPDIR.
 * It adds the missing system libraries of a bare machine only if it detects the cloud service that it was made for.
 */
function unpackedFolder(): string {
  const { version } = JSON.parse(readFileSync(join(packageFolder, "package.json"), "utf8")) as { version: string };
  const folder = join(project, ".cache", `chromium-${version}`);
  if (existsSync(join(folder, "chromium"))) return folder;
  rmSync(folder, { recursive: true, force: true });
  const aside = `${folder}.${process.pid}`;
  mkdirSync(aside, { recursive: true });
  const script = 'import chromium from "@sparticuz/chromium"; await chromium.executablePath();';
  execFileSync(process.execPath, ["--input-type=module", "-e", script], {
    cwd: project,
    env: { ...process.env, TMPDIR: aside, AWS_LAMBDA_JS_RUNTIME: "nodejs20.x" },
  });
  try {
    renameSync(aside, folder);
  } catch (error) {
    rmSync(aside, { recursive: true, force: true });
    if (!existsSync(join(folder, "chromium"))) throw error;
  }
  return folder;
}

/**
 * Fonts of the browser, so that a test gives the same result on every machine: `ordinary` are those of a desktop (the DejaVu
 * package and the browser's own), `bare` is the single font of the packaged browser, as on a server.
 */
export type Fonts = "ordinary" | "bare";

const ordinaryFonts = join(project, "node_modules/dejavu-fonts-ttf/ttf");

/** Path of the file that lists the font folders. Without any font, form fields crash the browser. */
function fontList(browserFolder: string, fonts: Fonts): string {
  const folders = [join(browserFolder, "fonts", "fonts"), ...(fonts === "ordinary" ? [ordinaryFonts] : [])];
  const path = join(browserFolder, `fonts-${fonts}.conf`);
  const element = (name: string, inside: string): string => `<${name}>${inside}</${name}>`;
  const prefer = (generic: string, family: string): string =>
    element("alias", element("family", generic) + element("prefer", element("family", family)));
  const list = [
    ...folders.map((folder) => element("dir", folder)),
    prefer("serif", "DejaVu Serif"),
    prefer("sans-serif", "DejaVu Sans"),
    prefer("monospace", "DejaVu Sans Mono"),
    element("cachedir", join(browserFolder, "font-cache")),
  ];
  const text = `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">${element("fontconfig", list.join(""))}`;
  // Write and rename, because parallel test files write the same text.
  writeFileSync(`${path}.${process.pid}`, text);
  renameSync(`${path}.${process.pid}`, path);
  return path;
}

interface Found {
  readonly path: string;
  readonly env: Readonly<Record<string, string>>;
}

function findBrowser(fonts: Fonts): Found {
  const asked = process.env.CHROME;
  if (asked) {
    if (!existsSync(asked)) throw new Error(`CHROME names ${asked}, and there is no such file`);
    return { path: asked, env: {} };
  }
  if (existsSync(packageFolder)) {
    const folder = unpackedFolder();
    return {
      path: join(folder, "chromium"),
      env: { LD_LIBRARY_PATH: join(folder, "al2023", "lib"), FONTCONFIG_FILE: fontList(folder, fonts) },
    };
  }
  const system = SYSTEM_BROWSERS.find((path) => existsSync(path));
  if (!system) throw new Error("no browser for the tests: run npm ci (it brings one), or set CHROME to the path of a Chromium");
  return { path: system, env: {} };
}

/** Starts a headless browser; the caller closes it. A browser from `CHROME` or from the system uses the machine's fonts. */
export async function launchChromium(fonts: Fonts = "ordinary"): Promise<Browser> {
  const { path, env } = findBrowser(fonts);
  const inherited = Object.fromEntries(
    Object.entries(process.env).filter((entry): entry is [string, string] => entry[1] !== undefined),
  );
  return chromium.launch({
    executablePath: path,
    args: ["--no-sandbox", "--disable-gpu", "--font-render-hinting=none"],
    env: { ...inherited, ...env },
  });
}
