// Worker entry of the ensemble benchmark.

import { chunkRunner } from "../../sim/ensemble/ensemble.ts";
import { createReferenceMember } from "./member.ts";

export default chunkRunner(createReferenceMember);
