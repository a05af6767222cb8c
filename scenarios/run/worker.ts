// What a worker thread runs: some members of an ensemble. The default export is what the pool of threads calls.
import { chunkRunner } from "../../sim/ensemble/ensemble.ts";
import { createMember } from "../model/members.ts";

export default chunkRunner(createMember);
