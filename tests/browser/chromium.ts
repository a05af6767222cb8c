// Finds a browser for the tests: CHROME if set, else the one that comes with the development packages, else the system's.
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium } from "playwright-core";

const project = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const packageFolder = join(project, "node_modules/@sparticuz/chromium");
const SYSTEM_BROWSERS = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"] as const;

/**
 * Unpacks the packaged browser into the project's cache, once for each version, and returns its folder. It is unpacked beside its place and
 * then renamed, so that two test runs at once cannot spoil it. The package picks its place from TMPDIR and brings the system
 * libraries a bare machine lacks when it believes to run in the cloud service it was made for.
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
 * Which fonts the browser finds, so that a test looks alike on every machine: `ordinary` are those of a desktop (the DejaVu
 * package, and the browser's own), `bare` is the one font that the packaged browser brings, as on a server.
 */
export type Fonts = "ordinary" | "bare";

const ordinaryFonts = join(project, "node_modules/dejavu-fonts-ttf/ttf");

/** The file that names the font folders. Without any font, form fields end the browser. */
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
  // Written whole and then renamed: test files that run side by side write the same text.
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

/** Starts a headless browser; the caller closes it. A browser that `CHROME` names, or the system's, uses the machine's fonts. */
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
