// Module of a worker thread that runs members of an ensemble. The thread pool calls the default export.
import { chunkRunner } from "../../sim/ensemble/ensemble.ts";
import { createMember } from "../model/members.ts";

export default chunkRunner(createMember);
