// Writes the output of the commands in README.md between the marks that name them: npm run readme
import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const project = fileURLToPath(new URL("../../", import.meta.url));
const readme = fileURLToPath(new URL("../../README.md", import.meta.url));

/** The lines of the output to show: the first ones, or those that match a pattern. */
function chosen(output: string, which: string): string {
  const lines = output.trimEnd().split("\n");
  const [, count, pattern] = /^(?:lines (\d+)|with "(.+)")$/.exec(which) ?? [];
  if (count !== undefined) return [...lines.slice(0, Number(count)), "..."].join("\n");
  if (pattern === undefined) throw new Error(`README.md: ${which} says not which lines to show`);
  return lines.filter((line) => new RegExp(pattern).test(line)).join("\n");
}

const text = readFileSync(readme, "utf8").replace(
  /(<!-- output: (.+?), ((?:lines|with) .+?) -->\n```text\n)[\s\S]*?```/g,
  (_, mark: string, command: string, which: string) => {
    console.log(`sumpwright ${command}`);
    const args = ["dist/cli.js", ...command.split(" "), "--out", ".cache/readme"];
    const { status, stdout, stderr } = spawnSync(process.execPath, args, { cwd: project, encoding: "utf8" });
    if (status !== 0) throw new Error(stderr);
    const shown = chosen(stdout, which).replaceAll(/\.cache\/readme\//g, "out/");
    return `${mark}$ npx sumpwright ${command}\n${shown}\n\`\`\``;
  },
);
writeFileSync(readme, text);
