// The page of a forecast: one self-contained HTML file without a script.
import { type ForecastPage, forecastBody } from "./forecast/body.ts";
import { htmlDocument } from "./report.ts";
import { forecast as looks } from "./style/forecast.ts";
import { toHtml } from "./view/markup.ts";

export const renderForecast = (page: ForecastPage): string =>
  htmlDocument({ title: `Forecast: ${page.result.name} · Sumpwright`, content: toHtml(forecastBody(page)), looks });
