// What a worker thread runs: some members of an ensemble. The default export is what the pool of threads calls.
import { chunkRunner } from "../sim/ensemble.ts";
import { createMember } from "./members.ts";

export default chunkRunner(createMember);
