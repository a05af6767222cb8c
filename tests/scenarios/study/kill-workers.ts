// The long form of the kill test: `npx tsx tests/scenarios/study/kill-workers.ts [kills of workers] [seed] [points]`.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import seedrandom from "seedrandom";
import { outputsIn, runWithKills } from "./kills.ts";
import { startPostgres } from "./postgres.ts";
import { FILLS, program, projectFile } from "./processes.ts";

const [workers = "20", seed = "1", points = "4000"] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), "sumpwright-kills-"));
const file = join(folder, "fills.yaml");
writeFileSync(
  file,
  readFileSync(FILLS, "utf8")
    .replace("../../../../scenarios", projectFile("scenarios"))
    .replace("points: 120", `points: ${points}`),
);
await program(["study", file, "--out", join(folder, "here"), "--pages", "0"]).done;
const database = await startPostgres();
try {
  const begun = performance.now();
  const kills = { workers: Number(workers), clients: 3, restarts: 2 };
  const { diedAt } = await runWithKills(database, join(folder, "queue"), kills, seedrandom(seed), file);
  const [here, there] = ["here", "queue"].map((name) =>
    outputsIn(join(folder, name)).map((path) => readFileSync(path).toString("base64")),
  );
  const [row] = await database.query<object>(
    "select count(*), count(distinct point) as points, count(failed) as failed from sumpwright.point",
  );
  console.log(
    `${workers} workers killed, 3 clients, 2 restarts of the server, in ${((performance.now() - begun) / 1000).toFixed(0)} s`,
  );
  console.log(`points done when something died: ${diedAt.join(", ")} of ${points}`);
  console.log(row);
  const same = here.every((bytes, i) => bytes === there[i]);
  console.log(same ? "the same bytes as on one machine" : "OTHER BYTES than on one machine");
  process.exitCode = same ? 0 : 1;
} finally {
  await database.stop();
  rmSync(folder, { recursive: true, force: true });
}
