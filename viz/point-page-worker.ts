// Module of a worker thread that renders the page of one point of a study. The thread pool calls the default export.
import { type PointPage, renderPoint } from "./study-page.ts";

export default (page: PointPage): Promise<string> => renderPoint(page);
