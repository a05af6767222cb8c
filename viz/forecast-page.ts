// The page of a forecast: one self-contained HTML file without a script.
import { type ForecastPage, forecastBody } from "./forecast/body.ts";
import { type PlanPage, planBody } from "./forecast/plan.ts";
import { type SizesPage, sizesBody } from "./forecast/sizes.ts";
import { htmlDocument } from "./report.ts";
import { forecast as looks } from "./style/forecast.ts";
import { toHtml } from "./view/markup.ts";

export const renderForecast = (page: ForecastPage): string =>
  htmlDocument({ title: `Forecast: ${page.result.name} · Sumpwright`, content: toHtml(forecastBody(page)), looks });

/** The page of a stocking plan. */
export const renderPlan = (page: PlanPage): string =>
  htmlDocument({ title: `Stocking plan: ${page.name} · Sumpwright`, content: toHtml(planBody(page)), looks });

/** The page of a sizing search. */
export const renderSizes = (page: SizesPage): string =>
  htmlDocument({ title: `Sizes: ${page.name} · Sumpwright`, content: toHtml(sizesBody(page)), looks });
