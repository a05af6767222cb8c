// What only the page of a forecast or a plan has: bands before and after the readings, and the line that says whether it may be believed.

export const forecast = `
.forecast-chart{overflow-x:auto;margin:.6rem 0 1.2rem}
.forecast-chart svg{min-width:38rem;width:100%;max-width:64rem}
.forecast-chart text{font-family:var(--lettering);fill:var(--ink);font-size:13px}
.forecast-chart .soft{fill:var(--ink-soft)}
.forecast-chart .panel-title{font-weight:600;font-size:15px}
.forecast-chart .panel-title .soft{font-weight:400;font-size:13px}
.forecast-chart .grid{stroke:var(--hair);fill:none}
.forecast-chart .axis{stroke:var(--ink);fill:none}
.forecast-chart .before{fill:none;stroke:var(--ink-soft);stroke-width:1.1;stroke-dasharray:1.5 3}
.forecast-chart .after{fill:var(--water);opacity:.72;stroke:var(--water-ink);stroke-width:.7}
.forecast-chart .likely{fill:none;stroke:var(--water-ink);stroke-width:2}
.forecast-chart .reading{stroke:var(--ink);stroke-width:1.4;fill:var(--sheet)}
.forecast-chart .limit{stroke:var(--alarm);stroke-dasharray:6 3;fill:none}
.milestones svg{min-width:0;max-width:40rem}.milestones text{paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}.milestones .ready text{font-weight:600}
.trust{border-left:3px solid var(--fine);padding:.5rem .8rem;background:var(--sheet)}
.trust::before{content:"◎ "}.trust.diamond::before{content:"◆ "}.trust.triangle::before{content:"▲ "}
.trust.diamond{border-color:var(--watch)}.trust.triangle{border-color:var(--alarm)}
.plain-list{list-style:none;padding:0}.plain-list li{margin:.7rem 0}.plain-list strong{font-weight:500}
@media print{.forecast-chart svg{min-width:0}.forecast-chart{overflow:visible}}
`;
