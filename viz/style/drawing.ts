// Strokes, hatching and water of the section drawing, and the lettering of the charts.

export const drawing = `
.cutaway,.chart{font-family:var(--lettering);fill:var(--ink);width:100%}
.cutaway path,.cutaway rect,.cutaway circle{vector-effect:none}
.hatch{stroke:var(--rule);stroke-width:.7}
.glass{stroke:var(--ink);stroke-width:.9}
.plate{fill:var(--ink);stroke:none;opacity:.86}
.teeth{stroke:var(--ink);stroke-width:1.6;fill:none}
.cup,.shell{fill:none;stroke:var(--ink);stroke-width:1.2}
.cloth{fill:none;stroke:var(--ink);stroke-width:1.3;stroke-dasharray:2 2.5}
.grate{stroke:var(--ink);stroke-width:2;stroke-dasharray:5 2.5;fill:none}
.stand{fill:none;stroke:var(--rule);stroke-width:.8}
.stand.board{fill:url(#none);stroke:var(--ink);stroke-width:.9}
.ground{stroke:none}
.ink-strong{stroke:var(--ink);stroke-width:1.8;fill:none}
.ink{stroke:var(--ink);stroke-width:1.2;fill:none}
.rock{fill:var(--sheet);stroke:var(--rule);stroke-width:1;stroke-linejoin:round;fill-opacity:.55}
.gravel{stroke:var(--rule);stroke-width:.7}
.water-fill{fill:var(--water);opacity:.82}
.water-dash{stroke:var(--water-ink);stroke-width:.7;opacity:.42}
.water-surface{stroke:var(--water-ink);stroke-width:1.5;fill:none}
.level-triangle{fill:var(--sheet);stroke:var(--water-ink);stroke-width:1.1}
.level-lines{stroke:var(--water-ink);stroke-width:.9;fill:none}
.puddle-water{fill:var(--water-deep);stroke:var(--alarm);stroke-width:1.4}
.puddle-label{font-weight:700;font-size:13px;fill:var(--alarm)}
.vessel-outline{fill:none;stroke:var(--ink);stroke-width:1}
.media-line{stroke:var(--media);stroke-width:.8}
.media-dot{fill:var(--media)}
.media-box{stroke:var(--ink);stroke-width:1}
.media-wet{fill:var(--media-wet)}
.media-working{fill:var(--media-working)}
.pad{stroke:var(--ink);stroke-width:.8}
.tray,.arm{fill:none;stroke:var(--ink);stroke-width:1.8}
.tray-holes{stroke:var(--sheet);stroke-width:2;stroke-dasharray:1.6 4;fill:none}
.arm-hub{fill:var(--sheet);stroke:var(--ink);stroke-width:1.4}
.pipe-wall,.pipe-bore,.pipe-water,.pipe-dashes{fill:none;stroke-linejoin:round}
.pipe-wall{stroke:var(--ink)}
.pipe-bore{stroke:var(--sheet)}
.pipe-water{stroke:var(--water)}
.pipe-dashes{stroke:var(--water-ink);stroke-width:1.2;stroke-dasharray:7 9}
.fall{fill:none;stroke:var(--water-ink);stroke-width:1.6;stroke-dasharray:4 4}
.drops{fill:none;stroke:var(--water-ink);stroke-width:1.1;stroke-dasharray:2.5 6}
.stream.back .pipe-dashes{stroke:var(--alarm);stroke-dasharray:3 5}
.break-hole{fill:var(--sheet);stroke:var(--ink);stroke-width:1.3}
.pump-body{fill:var(--sheet);stroke:var(--ink);stroke-width:1.5}
.pump-mark{fill:none;stroke:var(--ink);stroke-width:1.3;stroke-linejoin:round}
.reactor-body{fill:var(--sheet);stroke:var(--ink);stroke-width:1.2}
.valve{fill:var(--sheet);stroke:var(--ink);stroke-width:1.2;stroke-linejoin:round}
.handle{cursor:ns-resize;touch-action:none}.handle-reach{fill:transparent}
.handle-grip{fill:var(--sheet);stroke:var(--water-ink);stroke-width:1.4;stroke-linejoin:round}
.handle:hover .handle-grip{fill:var(--water-ink)}
html:not(.alive) .handle{display:none}
.leader{stroke:var(--rule);stroke-width:.8;fill:none}
.leader-dot{fill:var(--rule)}
.on-sheet,.part-name,.dim-text{paint-order:stroke;stroke:var(--sheet);stroke-width:3.5px;stroke-linejoin:round}
.part-label text,.part-name{font:italic 12.5px var(--words);fill:var(--ink-soft)}
.dim-extension{stroke:var(--rule);stroke-width:.7;fill:none}
.dim-level{stroke:var(--ink);stroke-width:.7;stroke-dasharray:8 3 2 3;fill:none;opacity:.65}
.dim-line{stroke:var(--ink);stroke-width:.8;fill:none}
.dim-tick{stroke:var(--ink);stroke-width:1.3;fill:none}
.dim-rim,.dim-word{font-size:12px;fill:var(--ink-soft);letter-spacing:.05em}
.dim-value{font-size:14px;font-weight:600;font-variant-numeric:tabular-nums}
.narrow .dim-value{font-size:12px}
.scale-bar text{font-size:12px;fill:var(--ink-soft)}
.bar-dark{fill:var(--ink)}.bar-light{fill:var(--sheet);stroke:var(--ink);stroke-width:.8}
@keyframes run{to{stroke-dashoffset:-16}}
@keyframes fallrun{to{stroke-dashoffset:-8.5}}
.playing .stream .pipe-dashes{animation:run var(--beat,.8s) linear infinite}
.playing .stream.back .pipe-dashes{animation-direction:reverse}
.playing .drops,.playing .fall{animation:fallrun .55s linear infinite}
@media (prefers-reduced-motion:reduce){.playing .pipe-dashes,.playing .drops,.playing .fall{animation:none!important}}

.chart text{font-size:12px}
.chart .axis text{fill:var(--ink-soft);font-variant-numeric:tabular-nums}
.chart .axis path,.chart .axis line{stroke:var(--rule);fill:none}
.chart .grid,.chart .axis .grid,.chart .event .grid{stroke:var(--hair);stroke-width:1;fill:none}
.chart .panel-title{font:600 14px var(--words);fill:var(--ink)}
.chart .panel-unit{font:400 12px var(--lettering);fill:var(--ink-soft)}
.chart .band{fill:var(--water);opacity:.8;stroke:var(--water-ink);stroke-width:.9;stroke-dasharray:1.5 3}
.chart .band-edge{fill:none;stroke:var(--water-ink);stroke-width:.9;stroke-dasharray:1.5 3}
.chart .line{fill:none;stroke:var(--ink);stroke-width:2;stroke-linejoin:round}
.chart .line.s1{stroke:var(--series-b);stroke-dasharray:7 3}
.chart .line.s2{stroke:var(--series-c);stroke-dasharray:2 3}
.chart .line.s3{stroke:var(--series-d);stroke-dasharray:9 3 2 3}
.chart .label-s1{fill:var(--series-b)}.chart .label-s2{fill:var(--series-c)}.chart .label-s3{fill:var(--series-d)}
.chart .ghost{fill:none;stroke:var(--ghost);stroke-width:1.4;stroke-dasharray:2 3}
.chart .guess{fill:none;stroke:var(--alarm);stroke-width:2.4;stroke-dasharray:6 4}
.chart .limit{stroke:var(--alarm);stroke-width:1;stroke-dasharray:6 3;fill:none}
.chart .limit-label{fill:var(--alarm);font-size:12px}
.chart .ceiling{fill:url(#off-chart);stroke:none}
.chart .ceiling-line{stroke:var(--ink-soft);stroke-width:1;fill:none}
.chart .ceiling-label{fill:var(--ink-soft);font:italic 12px var(--words)}
.chart .direct{font-size:12px;font-weight:600}
.chart .halo{paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}
.chart .event line{stroke:var(--ink-soft);stroke-width:.9;stroke-dasharray:1 3}
.chart .event .tick{fill:var(--ink);stroke:none}
.chart .event text{fill:var(--ink-soft);font-size:12px}
.chart .cursor{stroke:var(--water-ink);stroke-width:1.2}
.chart .cursor-dot{fill:var(--sheet);stroke:var(--water-ink);stroke-width:2}
.chart .reading{stroke:var(--ink);stroke-width:1.4;fill:var(--sheet)}
.chart .bar{stroke:var(--ink);stroke-width:.9}
.chart .fill-0{fill:var(--water)}.chart .fill-1{fill:var(--media-working)}.chart .fill-2{fill:var(--hair)}.chart .fill-3{fill:var(--watch-ground)}.chart .fill-4{fill:var(--sheet)}
.chart .amber{fill:var(--watch-ground);stroke:var(--watch)}
.chart .red{fill:var(--alarm-ground);stroke:var(--alarm)}
.chart .calm{fill:none;stroke:var(--rule)}
.chart .flood{fill:var(--alarm);opacity:.12}
`;
