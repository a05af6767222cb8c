// What a worker thread runs: some points of a study. The default export is what the pool of threads calls.
import { chunkRunner } from "../../sim/ensemble/ensemble.ts";
import { createPoint } from "./point.ts";

export default chunkRunner(createPoint);
