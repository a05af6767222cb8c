// Typography, layout and controls of the page.

export const page = `
*{box-sizing:border-box}
main{overflow-anchor:none}
html{background:var(--paper);color:var(--ink);font:1.0625rem/1.5 var(--words);-webkit-text-size-adjust:100%;font-variant-numeric:lining-nums tabular-nums}
body{margin:0 auto;padding:0 clamp(.9rem,3vw,2.5rem) 4rem;max-width:76rem}
p,li,dd{max-width:var(--measure)}
p{margin:0 0 .75rem}
h1,h2,h3{font-weight:600;line-height:1.2;text-wrap:balance}
h1{font-size:clamp(1.5rem,3.2vw,2.15rem);margin:0}
h2{font-size:1.4rem;margin:0 0 .35rem}
h3{font-size:1.1rem;margin:1.5rem 0 .4rem}
a{color:var(--water-ink);text-underline-offset:.15em}
svg{display:block;max-width:100%;height:auto}
.hidden{visibility:hidden}
[hidden]{display:none!important}
.aside,.note{color:var(--ink-soft);font-size:.95rem}
.visually-hidden{position:absolute;width:1px;height:1px;margin:-1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.skip{position:absolute;left:-999rem}
.skip:focus{left:1rem;top:.5rem;background:var(--sheet);padding:.5rem 1rem;z-index:9;border:1px solid var(--ink)}
:focus-visible{outline:2.5px solid var(--water-ink);outline-offset:2px}

.title-block{margin:1.1rem 0 1.4rem;border-bottom:1.5px solid var(--ink);padding-bottom:.9rem}
.title-block .question{font-style:italic;color:var(--ink-soft);margin:.3rem 0 0;font-size:1.15rem;max-width:none}
.marks-line{display:flex;justify-content:space-between;align-items:end;gap:1rem;margin:0 0 .7rem}
.wordmark{font:600 .8rem/1 var(--lettering);letter-spacing:.22em;text-transform:uppercase;margin:0;color:var(--ink-soft)}
.wordmark::before{content:"";display:inline-block;width:1.6em;height:.62em;margin-right:.7em;border:1.5px solid currentColor;border-top:0;vertical-align:-.02em;background:linear-gradient(var(--water),var(--water)) bottom/100% 60% no-repeat}
.firm{display:flex;align-items:center;gap:.7rem;margin:0;font:600 .9rem/1.2 var(--lettering)}
.firm-contact{font-weight:400}
.firm-logo{max-height:2.4rem;max-width:10rem;display:block}

.answer-words p{font-size:clamp(1.2rem,2.2vw,1.55rem);line-height:1.36;max-width:46rem;margin:0 0 .6rem;text-wrap:pretty}
.leads{list-style:none;margin:1.1rem 0 1rem;padding:0;display:grid;gap:0}
.lead-answer{display:grid;grid-template:"head picture" auto "text picture" 1fr/minmax(0,1fr) 11rem;column-gap:2rem;padding:.85rem 0;border-top:1px solid var(--hair);max-width:58rem;margin:0}
.lead-answer:first-child{border-top:0;padding-top:.2rem}
.lead-head{grid-area:head;display:flex;align-items:center;gap:.6rem;margin:0 0 .15rem;max-width:none}
.lead-head .symbol{width:1.5rem;height:1.5rem;flex:none}
.lead-head .word{font:700 .9rem/1.2 var(--lettering);letter-spacing:.1em}
.lead-head .job{font:.85rem/1.2 var(--lettering);color:var(--ink-soft)}
.lead-answer .text{grid-area:text;margin:0;font-size:1.22rem;line-height:1.38;text-wrap:pretty;max-width:42rem}
.lead-answer.alarm{border-left:4px solid var(--alarm);padding-left:1rem;background:var(--alarm-ground)}
.lead-picture{grid-area:picture;align-self:center}
.small{width:100%;font-family:var(--lettering)}
.small text{font-size:12px;fill:var(--ink-soft)}
.small-axis,.small-glass{stroke:var(--ink);stroke-width:1.1;fill:none}
.small-line{fill:none;stroke:var(--ink-soft);stroke-width:1.4;stroke-dasharray:4 2}
.small-line.s1{stroke:var(--water-ink);stroke-width:2;stroke-dasharray:none}
.small-mark{stroke:var(--ink);stroke-width:1;fill:none}
.small-water{fill:var(--water)}
.small-running{stroke:var(--water-ink);stroke-width:1;stroke-dasharray:4 3;fill:none}
.small-top{stroke:var(--water-ink);stroke-width:2;fill:none}
.small-spill{stroke:var(--alarm);stroke-width:2.2;fill:none}
.groups{margin:1rem 0 0;border-top:1px solid var(--rule)}
.group{border-bottom:1px solid var(--hair)}
.group>summary{display:flex;gap:.7rem;align-items:baseline;width:auto;padding:.5rem 0;font-size:.95rem}
.group>summary strong{color:var(--ink);font:600 1.02rem/1.3 var(--words)}
.group .count{font:600 .85rem/1.4 var(--lettering);border:1px solid var(--rule);padding:0 .45rem;color:var(--ink)}
.group-doNow .count{background:var(--alarm);color:var(--paper);border-color:var(--alarm)}
.gist{color:var(--ink-soft);font-size:.88rem}
summary .gist::first-letter{text-transform:uppercase}
summary::marker{color:var(--ink-soft)}

.fold{border-top:1px solid var(--rule)}
:is(main,.sections)>.fold{padding:0;margin:0}
.fold>details>summary{display:grid;grid-template-columns:1.4rem minmax(12rem,auto) 1fr;gap:.2rem .6rem;align-items:baseline;width:auto;padding:.85rem 0;list-style:none}
.fold>details>summary::-webkit-details-marker{display:none}
.fold>details>summary::before{content:"";width:.5rem;height:.5rem;border:solid var(--ink-soft);border-width:0 1.6px 1.6px 0;transform:rotate(-45deg);justify-self:center}
.fold>details[open]>summary::before{transform:rotate(45deg)}
.fold summary h2{font-size:1.2rem;margin:0}
.fold summary h3{font-size:1.05rem;margin:0}
.fold>details>summary:hover h2,.fold>details>summary:hover h3{text-decoration:underline;text-decoration-thickness:1px;text-underline-offset:.2em}
.fold-contents{padding:.3rem 0 1.6rem}
:is(main,.sections)>.fold+section:not(.fold){border-top:1px solid var(--rule)}
a.term{color:inherit;text-decoration:underline dotted 1px;text-underline-offset:.22em}
a.term:hover{color:var(--water-ink)}
#term-card,#read-out{position:fixed;z-index:20;background:var(--sheet);color:var(--ink);border:1px solid var(--ink);padding:.5rem .7rem;font:.85rem/1.4 var(--lettering);max-width:min(21rem,calc(100vw - 1rem));box-shadow:0 2px 10px #0002}
#read-out{pointer-events:none;padding:.4rem .6rem;font-size:.8rem}
#read-out dl{margin:.15rem 0 0;display:table}
#read-out dl div{display:table-row}
#read-out dt{display:table-cell;padding-right:.9rem;color:var(--ink-soft)}
#read-out dd{display:table-cell;margin:0;text-align:right;white-space:nowrap;font-variant-numeric:tabular-nums}
#read-out .here dt,#read-out .here dd{color:var(--ink);font-weight:700}
#term-card strong{display:block;margin-bottom:.1rem}
.glossary{columns:2 22rem;column-gap:3rem;margin:0;font-size:.95rem}
.glossary>div{break-inside:avoid;padding:.35rem 0;scroll-margin-top:1rem}
.glossary dt{font-weight:600}
.glossary dd{margin:0;color:var(--ink-soft)}
.glossary>div:target{background:var(--water)}

.toolbar nav{display:flex;flex-wrap:wrap;gap:.1rem 1.3rem}.toolbar nav a{padding:.3rem 0}
.provenance{overflow-wrap:anywhere;color:var(--ink-soft);font:.85rem/1.5 var(--lettering)}
.toolbar{display:flex;flex-wrap:wrap;gap:.6rem 1.6rem;align-items:center;margin:1.2rem 0 0;padding:.6rem 0;border-top:1px solid var(--rule);font:.85rem/1.3 var(--lettering)}
.tool-buttons{display:flex;gap:.4rem;margin-left:auto}
fieldset.switch{border:0;margin:0;padding:0;display:flex;align-items:center;gap:.1rem}
fieldset.switch legend{float:left;padding:0 .5rem 0 0;color:var(--ink-soft)}
.switch label{display:inline-flex;border:1px solid var(--rule);margin-left:-1px;cursor:pointer}
.switch label span{padding:.3rem .65rem}
.switch input{position:absolute;opacity:0;width:1.5rem;height:1.5rem;margin:0}
.switch input:checked+span{background:var(--ink);color:var(--paper)}
.switch label:has(:focus-visible){outline:2.5px solid var(--water-ink);outline-offset:2px}

dialog{background:var(--paper);color:var(--ink);border:1.5px solid var(--ink);padding:1.4rem 1.6rem;max-width:min(34rem,94vw)}
dialog::backdrop{background:#0a141c99}
#print-dialog fieldset{border:1px solid var(--hair);margin:.6rem 0 1rem;padding:.6rem .9rem;display:grid;gap:.35rem;font:.9rem/1.3 var(--lettering)}
#print-dialog label{display:flex;gap:.5rem;align-items:center}
#print-dialog fieldset button{justify-self:start;margin-top:.4rem}
#presentation{width:100vw;height:100vh;max-width:none;max-height:none;border:0;padding:1.4rem 3rem;margin:0}
#presentation[open]{display:grid;grid-template-rows:auto 1fr auto;gap:.8rem}
#presentation h2{font-size:clamp(1.5rem,3vw,2.4rem);margin:0}
.slide{min-height:0;display:grid;align-content:center;justify-items:stretch;overflow:auto}
.slide svg{max-height:calc(100vh - 12rem);width:100%}
.slide .story-verdict{font-size:1.5rem;justify-self:center;border:0}
.present-answer{zoom:1.35}.present-answer .groups{display:none}
.slide-controls{display:flex;gap:.6rem;align-items:center;justify-content:center;font:.95rem/1 var(--lettering)}

button,.button,select,input[type=number],input[type=text]{font:.9rem/1.3 var(--lettering);color:var(--ink);background:var(--sheet);border:1px solid var(--rule);border-radius:0;padding:.38rem .8rem;min-height:2.1rem}
button{cursor:pointer}
button:hover{border-color:var(--ink)}
button[aria-pressed=true],button.primary{background:var(--ink);color:var(--paper);border-color:var(--ink)}
button:disabled{color:var(--ink-soft);border-style:dashed;cursor:default}
input[type=range]{accent-color:var(--water-ink);width:100%;min-height:1.75rem;margin:0}
input[type=checkbox]{accent-color:var(--water-ink);width:1.15rem;height:1.15rem}

:is(main,.sections)>section{padding:2rem 0 .5rem;border-top:1px solid var(--rule);margin-top:2rem}
:is(main,.sections)>section:first-child{border-top:0;margin-top:0;padding-top:0}
.lead{color:var(--ink-soft);margin-bottom:1.1rem}

.verdicts{list-style:none;margin:0;padding:0;display:grid;gap:0}
.verdicts li{display:grid;grid-template-columns:2.2rem 7.2rem 1fr;gap:.2rem 1rem;padding:.8rem .9rem .75rem;border-top:1px solid var(--hair);align-items:start;max-width:none}
.verdicts li:first-child{border-top:0}
.verdicts svg{width:2rem;height:2rem}
.verdicts .word{font:700 .84rem/1.3 var(--lettering);letter-spacing:.12em;padding-top:.42rem}
.verdicts .text{max-width:52rem;font-size:1.08rem;line-height:1.38;margin:0;text-wrap:pretty}
.verdicts .advice{margin:.2rem 0 0;color:var(--ink-soft)}
.verdicts .topic{font:.75rem/1.3 var(--lettering);color:var(--ink-soft);display:block;letter-spacing:.02em;font-weight:400}
.verdicts .alarm{background:var(--alarm-ground)}
.alarm .word,.alarm .symbol{color:var(--alarm)}
.watch .word,.watch .symbol{color:var(--watch)}
.info .word,.info .symbol{color:var(--fine)}
.symbol{fill:none;stroke:currentColor;stroke-width:2;stroke-linejoin:round;stroke-linecap:round}
.symbol .solid{fill:currentColor;stroke:none}
.symbol .knock{stroke:var(--sheet);fill:none}

figure{margin:0 0 1.5rem}
figcaption{color:var(--ink-soft);font-size:.95rem;margin:.5rem 0 0;max-width:var(--measure)}
.frame{border:1px solid var(--ink);background:var(--sheet);outline:1px solid var(--rule);outline-offset:4px;margin:6px}
h2+.frame,h2+div>.frame:first-child,h3+.frame{margin-top:14px}
.actions{display:flex;flex-wrap:wrap;gap:.4rem;align-items:center;margin:.5rem 0}
.actions button,.actions .button{font-size:.8rem;padding:.2rem .6rem;min-height:1.75rem}
details>summary{cursor:pointer;font:.85rem/1.4 var(--lettering);color:var(--ink-soft);padding:.3rem 0;width:fit-content}
details>summary:hover{color:var(--ink)}

.table-scroll{overflow-x:auto;max-width:100%;margin:0 0 1rem}
table{border-collapse:collapse;font:.875rem/1.4 var(--lettering);min-width:min(100%,24rem)}
caption{text-align:left;font:600 1rem/1.3 var(--words);padding:0 0 .45rem}
th,td{text-align:left;padding:.34rem .9rem .34rem 0;border-bottom:1px solid var(--hair);vertical-align:top}
thead th{border-bottom:1.5px solid var(--ink);font-weight:600;vertical-align:bottom}
td.n,th.n{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
tfoot td,tfoot th{border-top:1px solid var(--ink);border-bottom:0;font-weight:600}
th[scope=row]{font-weight:500}
@media screen and (max-width:34rem){
table.stacks thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
table.stacks tr{display:block;padding:.5rem 0;border-bottom:1px solid var(--hair)}
table.stacks th,table.stacks td{display:block;border:0;padding:.1rem 0;text-align:left}
table.stacks th[scope=row]{font-weight:600}
}
.columns.three{grid-template-columns:repeat(auto-fit,minmax(min(100%,17rem),1fr))}
.columns table{min-width:min(100%,17rem)}
.columns{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,24rem),1fr));gap:1rem 3rem;align-items:start}
.verdict-word{font:700 .78rem/1 var(--lettering);letter-spacing:.08em}
.v-FLOODS{color:var(--alarm)}.v-TIGHT{color:var(--watch)}.v-HOLDS{color:var(--fine)}
.matrix td{border:1px solid var(--hair);padding:.35rem .4rem;min-width:4.15rem}
.matrix td.empty{border:0}
.matrix th[scope=row]{min-width:15rem;padding:.35rem .7rem .35rem 0;font-weight:400}
.matrix th small{display:block;color:var(--ink-soft)}
.fault{display:grid;grid-template-columns:1.6rem 1fr}.fault-number{font-weight:700}
.matrix thead th{font-weight:500;color:var(--ink-soft);white-space:nowrap;padding-left:.4rem;padding-right:.2rem}
.matrix thead th:first-child{padding-left:0}
.matrix .verdict-word{font-size:.7rem;letter-spacing:.05em}
.matrix td.FLOODS{background:var(--alarm-ground)}
.matrix td.TIGHT{background:var(--watch-ground)}
.matrix td small{display:block;color:var(--ink);font-size:.78rem;white-space:nowrap}
.matrix td button{all:unset;cursor:pointer;display:block;width:100%}
.matrix td button:focus-visible{outline:2.5px solid var(--water-ink);outline-offset:3px}
.sources{font-size:.82rem;color:var(--ink-soft)}
dl.pairs{display:grid;grid-template-columns:auto 1fr;gap:.2rem 1rem;margin:0 0 1rem}
dl.pairs dt{color:var(--ink-soft)}dl.pairs dd{margin:0}
footer{border-top:1.5px solid var(--ink);margin-top:3rem;padding-top:.8rem;color:var(--ink-soft);font-size:.9rem}
pre{font:.8rem/1.45 ui-monospace,"SF Mono",Menlo,Consolas,"DejaVu Sans Mono",monospace;overflow-x:auto;background:var(--sheet);border:1px solid var(--hair);padding:.8rem}

@media screen and (max-width:46rem){table.roomy{min-width:34rem}}
@media (max-width:46rem){
.title-block{margin:.6rem 0 .8rem;padding-bottom:.5rem}.marks-line{margin-bottom:.4rem}h1{font-size:1.3rem}
.title-block .question{font-size:1rem;margin-top:.15rem;line-height:1.35}
.answer-words p{font-size:1.06rem;line-height:1.34;margin-bottom:.4rem}
.leads{margin:.4rem 0}
.lead-answer{grid-template-columns:minmax(0,1fr) 5.4rem;column-gap:.7rem;padding:.5rem 0}
.lead-answer .text{font-size:1rem;line-height:1.34}.lead-head .symbol{width:1.2rem;height:1.2rem}
.lead-head{flex-wrap:wrap;gap:.1rem .5rem}
.lead-answer.alarm{padding-left:.6rem}
.small text{font-size:19px}
.group>summary .gist{display:none}
.fold>details>summary{grid-template-columns:1.2rem 1fr}.fold>details>summary .gist{grid-column:2}
.tool-buttons{margin-left:0}
#presentation{padding:1rem}
.glossary{columns:1}
.verdicts li{grid-template-columns:1.7rem 1fr;padding:.7rem .5rem}
.verdicts svg{width:1.6rem;height:1.6rem;grid-row:1/3}
.verdicts .word{padding-top:.1rem}.verdicts .topic{display:inline;margin-left:.6rem}
.verdicts .body{grid-column:2}
.verdicts .text{font-size:1rem}
:is(main,.sections)>section{padding-top:1.4rem;margin-top:1.4rem}
}
.player{display:grid;grid-template:"draw side" auto "events side" 1fr "line line" auto/minmax(0,66fr) minmax(0,34fr);gap:.4rem 2rem;align-items:start}
.sheet-drawing{grid-area:draw}.sheet-side{grid-area:side}.event-list{grid-area:events}.time-line{grid-area:line}
.player.wide{grid-template:"draw draw" auto "side events" auto "line line" auto/minmax(0,1fr) minmax(0,1fr)}
.sheet-drawing{margin:0}
.marks td,.marks th{padding-right:.5rem}.marks td .first{white-space:nowrap;font-weight:600}.marks td small{display:block;color:var(--ink-soft);white-space:nowrap}
.marks thead th{font-size:.78rem}
.sheet-side .story-pick{display:grid;gap:.2rem;font:.85rem/1.3 var(--lettering);color:var(--ink-soft);margin-bottom:.9rem}
.sheet-side select{width:100%;text-overflow:ellipsis}
.story-verdict{display:grid;grid-template-columns:2rem 1fr;gap:.7rem;align-items:start;font-size:1.12rem;line-height:1.35;border-top:1px solid var(--hair);border-bottom:1px solid var(--hair);padding:.8rem 0;margin:0 0 1rem}
.story-verdict .word,.badge .word{font:700 .84rem/1 var(--lettering);letter-spacing:.12em}
.event-list{margin:.9rem 6px 0}
.events{list-style:none;margin:0;padding:0;font-size:.95rem;columns:2 16rem;column-gap:2rem}
.events li{break-inside:avoid}
.events li{border-bottom:1px solid var(--hair);max-width:none}
.events button{all:unset;cursor:pointer;display:grid;grid-template-columns:4.2rem 1fr;padding:.3rem .4rem .28rem .2rem;width:100%;box-sizing:border-box}
.events .when{font:.84rem/1.5 var(--lettering);color:var(--ink-soft)}
.events button:hover{background:var(--hair)}
.events button:focus-visible{outline:2.5px solid var(--water-ink);outline-offset:-2px}
.events [aria-current]{background:var(--water);}
.events [aria-current] .when{color:var(--ink)}
.player-controls{display:flex;flex-wrap:wrap;gap:.4rem;align-items:center;margin:.8rem 6px 0}
.player-controls button{display:inline-flex;align-items:center;gap:.45rem}
.icon path{fill:currentColor;stroke:currentColor;stroke-width:1.4;stroke-linejoin:round}
#clock{font:.9rem/1.3 var(--lettering);color:var(--ink-soft);margin-left:.5rem}
html:not(.alive) .player-controls,html:not(.alive) .scrub-track,html:not(.alive) .no-print{display:none}
html.alive .still,html:not(.alive) .again{display:none}
.time-line{margin-top:1.6rem}
.scrub-track{margin-top:-.4rem}
#lesson-panel{border-left:3px solid var(--alarm);padding:.2rem 0 .2rem 1rem}
#lesson-panel p{margin:.2rem 0 .5rem}
.guess-points{border:1px solid var(--hair);margin:.4rem 0;display:grid;grid-template-columns:repeat(auto-fill,minmax(7.5rem,1fr));gap:.2rem 1rem;font:.8rem/1.2 var(--lettering)}
.lesson-on [data-stack] svg.panel{cursor:crosshair;touch-action:none}
.stack{display:grid;gap:.55rem;outline-offset:6px}
.stack svg.panel{touch-action:pan-y}
.readings{display:flex;flex-wrap:wrap;gap:.5rem .9rem;align-items:center;font:.875rem/1.3 var(--lettering);margin:.6rem 0 1rem;border-top:1px solid var(--hair);padding-top:.8rem}
.readings input{width:5.2rem}
.readings button{font-size:.85rem}
.print-only{display:none}
.knobs{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,17rem),1fr));gap:.7rem 2rem;margin:0 0 1rem;font:.9rem/1.3 var(--lettering)}
.knob{display:grid;grid-template-columns:1fr auto;gap:.1rem .6rem;align-items:center}
.knob input[type=range]{grid-column:1/-1;width:100%}
.knob select{justify-self:end}
.knob-value{display:inline-flex;align-items:center;gap:.35rem}
.knob-value input{width:5.4rem;text-align:right;padding:.2rem .4rem;min-height:1.75rem}
.knob-value .unit{color:var(--ink-soft);min-width:2.6rem}
.more-knobs{margin:0 0 1rem}
.differences{padding-left:1.1rem}.differences strong{font:700 .8rem/1.3 var(--lettering);letter-spacing:.06em}
.differences details{color:var(--ink-soft)}
.kept{list-style:none;padding:0;margin:.3rem 0 .6rem}
.kept li{display:flex;flex-wrap:wrap;gap:.5rem;align-items:center;border-bottom:1px solid var(--hair);padding:.35rem 0;max-width:none}
.kept li span{margin-right:auto}
#try-state{font:.875rem/1.4 var(--lettering);color:var(--ink-soft);min-height:1.4em;margin:.2rem 0 .6rem}
.zoom{display:flex;flex-wrap:wrap;gap:.4rem;margin:0 0 .6rem}
.zoom button{font-size:.8rem;padding:.2rem .6rem;min-height:1.75rem}
.compared-answers{list-style:none;padding:0;margin:.2rem 0 1.2rem}
.compared-answers li{display:grid;grid-template-columns:1.7rem 1fr;gap:.7rem;font-size:1.2rem;line-height:1.38;padding:.45rem 0;max-width:56rem}
.compared-answers .symbol{width:1.6rem;height:1.6rem}
.alarm>.symbol{color:var(--alarm)}.watch>.symbol{color:var(--watch)}.info>.symbol{color:var(--fine)}
table.inputs code{font-size:.8rem;white-space:normal}
.colophon{display:grid;grid-template-columns:auto 1fr;width:fit-content;border:1px solid var(--rule);margin:0 0 .9rem;font:.8rem/1.35 var(--lettering)}
.colophon dt,.colophon dd{padding:.25rem .8rem;border-bottom:1px solid var(--hair);margin:0}
.colophon dt{color:var(--ink-soft)}
.colophon>:nth-last-child(-n+2){border-bottom:0}
.lesson-hides .lead-picture,.lesson-hides #compare [data-figure]{visibility:hidden}
.lesson-hides #answer .text,.lesson-hides #answer .answer-words,.lesson-hides #answer .groups,.lesson-hides #compare{filter:blur(.5em)}
.key-answer{color:var(--ink-soft)}
.summary-leads{list-style:none;padding:0;margin:0 0 .6rem}
.summary-leads li{display:grid;grid-template-columns:1.2rem 1fr;gap:.5rem;max-width:none}
.summary-leads .symbol{width:1.1rem;height:1.1rem}
.summary-columns{display:grid;grid-template-columns:1fr 1fr;gap:1rem;align-items:start}
.summary-cautions{font-size:.8rem;color:var(--ink-soft);max-width:none}
@media (max-width:46rem){.summary-columns{grid-template-columns:1fr}}
.waiting h2::after{content:"being worked out again for your change";font:400 .875rem/1.3 var(--lettering);color:var(--ink-soft);margin-left:1rem}
.file{display:inline-flex;align-items:center;cursor:pointer;position:relative}
.file input{position:absolute;inset:0;opacity:0;cursor:pointer;width:100%}
.file:focus-within{outline:2.5px solid var(--water-ink);outline-offset:2px}
.focus-pick{display:flex;gap:.4rem;align-items:center}
.sheet-of{color:var(--ink-soft);font-style:italic;margin:-.2rem 0 .8rem}
.card-line{font-size:1.15rem;line-height:1.42}
.signature{display:grid;grid-template-columns:repeat(3,1fr);gap:2rem;margin:2.6rem 0 .5rem;font:.8rem/1.3 var(--lettering);color:var(--ink-soft)}
.signature .line,.questions .line{display:block;border-bottom:1px solid var(--ink);height:1.9rem;margin-bottom:.25rem}
.step th{font:600 .95rem/1.35 var(--words);padding-top:.7rem}
h4{margin:.6rem 0 .2rem;font-size:1rem}
ol,ul{padding-left:1.3rem}
li{margin:.15rem 0}
.verdicts li{margin:0}
@media (max-width:56rem){.player,.player.wide{grid-template:"side" auto "draw" auto "line" auto "events" auto/minmax(0,1fr)}}
@media print{.print-only{display:block}html.alive .still{display:block}}
`;
