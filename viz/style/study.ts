// Additional styles of a study's page: the outcome map, the parallel-coordinates plot, the indices.

export const study = `
.heat{min-width:0}
.heat td,.heat th{padding:.4rem .55rem;border:1px solid var(--sheet);text-align:right;white-space:nowrap}
.heat thead td{border:0}.heat thead th,.heat tbody th{font-weight:400;color:var(--ink-soft);border-color:transparent}
.heat thead th{border-bottom:1.5px solid var(--ink)}
.heat tbody th{border-right:1.5px solid var(--ink)}
.heat .h0{background:color-mix(in srgb,var(--water-deep) 4%,var(--sheet))}
.heat .h1{background:color-mix(in srgb,var(--water-deep) 24%,var(--sheet))}
.heat .h2{background:color-mix(in srgb,var(--water-deep) 44%,var(--sheet))}
.heat .h3{background:color-mix(in srgb,var(--water-deep) 64%,var(--sheet))}
.heat .h4{background:color-mix(in srgb,var(--water-deep) 84%,var(--sheet));font-weight:600}
.heat .none{color:var(--ink-soft);background:repeating-linear-gradient(135deg,var(--hair) 0 1px,transparent 1px 6px)}
.study-chart{overflow-x:auto;padding:.4rem 0}
.study-chart svg{max-width:none}
.study-chart.wide svg{min-width:44rem;width:100%}
.study-chart.rows svg{min-width:24rem;width:100%;max-width:52rem}
.study-chart text{font-family:var(--lettering);fill:var(--ink);paint-order:stroke;stroke:var(--paper);stroke-width:3px;stroke-linejoin:round}
.study-chart .soft{fill:var(--ink-soft)}
.study-chart .axis{stroke:var(--ink);fill:none}
.study-chart .grid{stroke:var(--hair);fill:none}
.study-chart .line{stroke:var(--rule);stroke-opacity:.35;fill:none;stroke-width:.8}
.study-chart .best{stroke:var(--water-ink);fill:none;stroke-width:1.8}
.study-chart .worst{stroke:var(--alarm);fill:none;stroke-width:1.6;stroke-dasharray:6 3}
.study-chart .first{fill:var(--ink);stroke:var(--ink)}
.study-chart .total{fill:var(--sheet);stroke:var(--water-ink);stroke-width:2}
.study-chart .whisker{stroke:var(--ink);stroke-width:1.4;fill:none}
.study-chart .whisker.t{stroke:var(--water-ink)}
.designs a{white-space:nowrap}.designs th.n{white-space:normal;max-width:8.5rem;overflow-wrap:break-word}
.designs tr.split th{font:600 1rem/1.3 var(--words);padding-top:1rem}
@media print{.heat td{-webkit-print-color-adjust:exact;print-color-adjust:exact}.study-chart.wide svg,.study-chart.rows svg{min-width:0}.study-chart{overflow:visible}}
`;
