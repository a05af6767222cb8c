// One process of a campaign: judges the rigs it is told to.
import { type Shares, verdictOf } from "./campaign.ts";

process.on("message", async ({ seed, index, shares }: { seed: string; index: number; shares: Shares }) => {
  process.send?.(await verdictOf(seed, index, shares));
});
// A rejection nobody waited for ends the process, as it would end a host's.
process.on("unhandledRejection", (error) => {
  console.error(error);
  process.exit(70);
});
process.send?.("ready");
