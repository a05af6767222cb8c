// What a worker thread runs: some members of a forecast. The default export is what the pool of threads calls.
import { chunkRunner } from "../../sim/ensemble/ensemble.ts";
import { createCourse } from "./course.ts";

export default chunkRunner(createCourse());
