// Worker entry: runs some members of a forecast. The pool of threads calls the default export.
import { chunkRunner } from "../../sim/ensemble/ensemble.ts";
import { causeNamed } from "./causes.ts";
import { createCourse } from "./course.ts";

export default chunkRunner(createCourse(causeNamed));
