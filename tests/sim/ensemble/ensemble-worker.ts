// Worker entry of the ensemble tests.

import { chunkRunner } from "../../../sim/ensemble/ensemble.ts";
import { createLogisticMember } from "./ensemble-member.ts";

export default chunkRunner(createLogisticMember);
