// One process of a campaign: judges the rigs that it receives.
import { type Shares, verdictOf } from "./campaign.ts";

process.on("message", async ({ seed, index, shares }: { seed: string; index: number; shares: Shares }) => {
  process.send?.(await verdictOf(seed, index, shares));
});
// An unhandled rejection ends the process, as it would in a host program.
process.on("unhandledRejection", (error) => {
  console.error(error);
  process.exit(70);
});
process.send?.("ready");
