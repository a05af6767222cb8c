// What a worker thread runs for the page of one point of a study. The default export is what the pool of threads calls.
import { type PointPage, renderPoint } from "./study-page.ts";

export default (page: PointPage): Promise<string> => renderPoint(page);
