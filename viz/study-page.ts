// The page of a study, and the pages of its best and worst points.
import { loadScenario } from "../scenarios/load/load.ts";
import { withChanges } from "../scenarios/load/save.ts";
import { runScenario } from "../scenarios/run/run.ts";
import type { Study } from "../scenarios/study/load.ts";
import { htmlDocument, renderPage } from "./report.ts";
import { type StudyPage, studyBody } from "./study/body.ts";
import { study as looks } from "./style/study.ts";
import { toHtml } from "./view/markup.ts";

/** One self-contained HTML file without script. */
export const renderStudy = (page: StudyPage): string =>
  htmlDocument({ title: `${page.summary.name} · Sumpwright`, content: toHtml(studyBody(page)), looks });

/** A scenario file with the values of one point written into it. */
export function scenarioOf(study: Study, index: number): string {
  const { base, changes } = study.point(index);
  return withChanges(base.text, [
    ...base.located(changes),
    { path: ["name"], value: `${base.scenario.name}, point ${index} of “${study.text.name}”`.slice(0, 120) },
  ]);
}

export interface PointPage {
  readonly file: string;
  readonly source: string;
  readonly scripts: { readonly page: string; readonly worker: string; readonly notices: string };
}

/**
 * The page of one point: the likely run with all faults, without bands.
 * @throws RunFailure when the point cannot be run
 */
export async function renderPoint({ file, source, scripts }: PointPage): Promise<string> {
  const loaded = loadScenario(source, file);
  if (!loaded.ok) throw new Error(`${file}: ${loaded.errors[0]?.problem}`);
  const result = await runScenario({ ...loaded, source, file }, { seed: "1", members: 0, matrix: true });
  const { page, ...carried } = scripts;
  return renderPage([result], page, carried);
}
