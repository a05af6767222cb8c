// Looks of the drawing board: the page's paper, ink and tokens, laid out as a table with three places.

export const boardStyle = `
html.board-page body{max-width:none;padding:0 1rem 3rem}
#board>main{min-height:60vh}
.board-head{display:flex;flex-wrap:wrap;gap:.6rem 2rem;align-items:end;border-bottom:1.5px solid var(--ink);padding:.9rem 0 .7rem;margin-bottom:.6rem}
.head-words{margin-right:auto}
.board-head h1{font-size:1.35rem}
.board-head .wordmark{margin:0 0 .35rem}
.head-tools{display:flex;flex-wrap:wrap;gap:.35rem;align-items:center}
.head-tools button{font-size:.84rem;padding:.25rem .65rem;min-height:2rem}
.units{font:.84rem/1.3 var(--lettering);color:var(--ink-soft)}
.notice{font:.9rem/1.4 var(--lettering);min-height:1.4rem;color:var(--watch)}
main>section.start,main>section.questions,main>section.kept,main>div>section.compare,main>div>section.send{max-width:76rem;margin:0 auto;border:0;padding-top:1rem}
.cards{list-style:none;padding:0;margin:1.2rem 0;display:grid;gap:1rem;grid-template-columns:repeat(auto-fill,minmax(min(100%,16.5rem),1fr))}
.cards li{margin:0;max-width:none;display:grid}
.card{display:grid;grid-template-rows:auto auto 1fr;gap:.3rem;text-align:left;padding:1rem 1.1rem;border:1px solid var(--ink);background:var(--sheet)}
.card:hover,.card:focus-visible{background:var(--paper)}
.card-title{font:600 1.08rem/1.3 var(--words);display:block}
.card-about{font:.92rem/1.4 var(--words);color:var(--ink-soft);display:block}
.thumb{width:100%;height:auto;max-height:9.5rem}
.thumb-line{fill:none;stroke:var(--ink);stroke-width:1.3;stroke-linejoin:round;stroke-linecap:round}
.thumb-soft{fill:none;stroke:var(--rule);stroke-width:1.1}
.thumb-water{fill:var(--water);stroke:none}
.thumb-media{fill:var(--media-wet);stroke:var(--media);stroke-width:.8;stroke-dasharray:2 2}
.thumb-dots{stroke:var(--ink);stroke-width:3;stroke-linecap:round;fill:none}
.open-link{display:flex;flex-wrap:wrap;gap:.4rem .7rem;align-items:center;font:.9rem/1.3 var(--lettering)}
.open-link input{min-width:min(100%,20rem)}
.step{font:.9rem/1.3 var(--lettering);color:var(--ink-soft)}
main>section.questions{max-width:52rem}
.question-head{display:grid;grid-template-columns:9rem 1fr;gap:1.5rem;align-items:center;margin-bottom:1rem}
.choices{display:grid;gap:.7rem;grid-template-columns:repeat(auto-fill,minmax(min(100%,11.5rem),1fr));margin-bottom:1rem}
.choice{display:block;border:1px solid var(--rule);padding:.7rem .9rem;background:var(--sheet);cursor:pointer;position:relative}
.choice:has(:checked){border-color:var(--ink);outline:2px solid var(--ink)}
.choice:has(:focus-visible){outline:2.5px solid var(--water-ink);outline-offset:2px}
.choice input{position:absolute;right:.6rem;top:.6rem;accent-color:var(--water-ink);width:1.2rem;height:1.2rem}
.choice .thumb{max-height:6rem}
.entry{display:grid;grid-template-columns:minmax(9rem,auto) minmax(8rem,16rem) 1fr;gap:.3rem .9rem;align-items:center;font:.95rem/1.3 var(--lettering);max-width:none}
.board{display:grid;grid-template-columns:minmax(13rem,15.5rem) minmax(0,1fr) minmax(17rem,22rem);gap:1.4rem;align-items:start}
.left,.right{scrollbar-color:var(--rule) transparent;position:sticky;top:0;max-height:100vh;overflow:auto;padding:.4rem .35rem 2rem}
.left h2,.right h2,.middle h2{font-size:1.1rem;margin:0 0 .3rem}
.tree ul{list-style:none;margin:0;padding:0}
.tree li{margin:0}
.tree-group{font:600 .76rem/1.3 var(--lettering);letter-spacing:.04em;color:var(--ink-soft);padding:.75rem 0 .2rem;border-bottom:1px solid var(--hair)}
.part{display:flex;flex-wrap:wrap;gap:0 .5rem;align-items:baseline;width:100%;border:0;background:none;text-align:left;font:.92rem/1.35 var(--lettering);padding:.24rem .4rem;min-height:1.7rem;color:var(--ink)}
.part[data-depth="1"]{padding-left:1.2rem}.part[data-depth="2"]{padding-left:2rem}.part[data-depth="3"]{padding-left:2.8rem}.part[data-depth="4"]{padding-left:3.6rem}
.part:hover{background:var(--hair)}
.part.here{background:var(--ink);color:var(--paper)}
.part.usual .part-title,.part.absent .part-title{font-style:italic}
.part.absent,.part.usual{color:var(--ink-soft)}
.part.here .part-gist,.part.here .part-title{color:var(--paper)}
.part-gist{font-size:.78rem;color:var(--ink-soft)}
.part-errors{font-size:.76rem;font-weight:700;color:var(--alarm)}
.part.here .part-errors{color:var(--paper)}
.answer{border:1.5px solid var(--ink);background:var(--sheet);padding:.7rem 1rem .6rem;margin:.4rem 0 1rem}
.answer-head{display:flex;flex-wrap:wrap;gap:.2rem 1.2rem;align-items:baseline;justify-content:space-between}
.work{margin:0;font:.82rem/1.4 var(--lettering);color:var(--ink-soft)}
.unsaved{color:var(--watch)}
.answer .leads{margin:.3rem 0 .2rem}
.answer .lead-answer{grid-template-columns:minmax(0,1fr) 7.5rem;column-gap:1.2rem;padding:.45rem 0;max-width:none}
.answer .lead-answer.alarm{padding-left:.7rem;padding-right:.5rem}
.answer .lead-answer .text{font-size:1.05rem;line-height:1.36}
.answer .lead-head .symbol{width:1.3rem;height:1.3rem}
.answer .lead-answer.other{box-shadow:inset 3px 0 0 var(--watch);padding-left:.7rem}
.was{display:block;font-size:.9rem;color:var(--ink-soft)}
.answer .groups{margin:.3rem 0 0}
.answer .group:last-child{border-bottom:0}
.answer .verdicts li{grid-template-columns:1.7rem 1fr;padding:.6rem .4rem}
.answer .verdicts svg{width:1.5rem;height:1.5rem;grid-row:1/3}
.answer .verdicts .word{padding-top:.1rem}.answer .verdicts .topic{display:inline;margin-left:.6rem}
.answer .verdicts .body{grid-column:2}
.answer .verdicts .text{font-size:1rem}
.mend{border-left:3px solid var(--alarm);padding:.2rem 0 .2rem .8rem;margin:.3rem 0 .6rem}
.mend p{margin:0 0 .2rem}.mend ol{margin:0}
button.link{all:unset;cursor:pointer;color:var(--water-ink);text-decoration:underline;text-underline-offset:.15em}
button.link:focus-visible{outline:2.5px solid var(--water-ink);outline-offset:2px}
.drawing-head{display:flex;flex-wrap:wrap;gap:.4rem 1.2rem;align-items:center;justify-content:space-between}
.drawing .frame{margin:6px 0}
.drawing svg.cutaway{touch-action:pan-y}
.spot{fill:transparent;stroke:none;cursor:pointer}
.spot:hover{stroke:var(--water-ink);stroke-width:1.5;stroke-dasharray:4 3}
.chosen-mark{fill:none;stroke:var(--water-ink);stroke-width:2.4;stroke-dasharray:7 4}
.handle{cursor:ns-resize;touch-action:none;outline:0}
.handle-reach{fill:transparent;stroke:none}
.handle-line{stroke:transparent;stroke-width:2;fill:none}
.handle-grip{fill:var(--sheet);stroke:var(--water-ink);stroke-width:1.4;opacity:.5}
.drawing:hover .handle-grip,.handle:focus .handle-grip,.handle.held .handle-grip,.handle.near .handle-grip{opacity:1}
.handle:hover .handle-line,.handle:focus .handle-line,.handle.held .handle-line{stroke:var(--water-ink)}
.handle:focus-visible .handle-grip,.handle.held .handle-grip{fill:var(--water-ink)}
.handle:focus-visible .handle-reach{stroke:var(--water-ink);stroke-width:2}
.handle-value{font:700 13px var(--lettering);fill:var(--water-ink);paint-order:stroke;stroke:var(--sheet);stroke-width:4px}
.drawing-head .switch,.panes{font:.86rem/1.3 var(--lettering)}
.nothing{padding:2rem;border:1px dashed var(--rule);max-width:none}
.middle>section{margin:0 0 1.6rem}
.strip{display:block}
.strip-tick{stroke:var(--hair);stroke-width:1}
.strip-day,.strip-name{font-size:12px;fill:var(--ink-soft)}
.strip-name{fill:var(--ink)}
.strip-run{stroke:var(--rule);stroke-width:1}
.strip-again{fill:var(--sheet);stroke:var(--ink);stroke-width:1}
.strip-mark{fill:var(--water-deep);stroke:var(--ink);stroke-width:1.2}
.moment{cursor:ew-resize;touch-action:none;outline:0}
.moment:focus-visible .handle-reach{stroke:var(--water-ink);stroke-width:2}
.moment.near .strip-mark{fill:var(--ink)}
.happenings{columns:2 18rem;column-gap:2rem;font-size:.95rem;padding-left:1.1rem}
.happenings li{break-inside:avoid;max-width:none}
.timeline .actions label{font:.85rem/1.3 var(--lettering)}
.inspector .where{font:.8rem/1.3 ui-monospace,Menlo,Consolas,"DejaVu Sans Mono",monospace;color:var(--ink-soft);margin:0 0 .3rem;overflow-wrap:anywhere}
.inspector .lead{margin:0 0 .5rem}
.field{border-top:1px solid var(--hair);padding:.55rem 0 .5rem;font:.9rem/1.35 var(--lettering)}
.field label{font-weight:600;display:block;margin-bottom:.2rem}
.field .needed{font-weight:400;color:var(--watch);font-size:.8rem}
.field input,.field select,.field textarea,.open-link input,.entry input,.reading-form input,#link{font:.92rem/1.3 var(--lettering);color:var(--ink);background:var(--sheet);border:1px solid var(--rule);padding:.35rem .55rem;min-height:2rem;width:100%}
.field input::placeholder,.entry input::placeholder,.open-link input::placeholder{color:var(--ink-soft);opacity:1;font-style:italic}
.field textarea{resize:vertical}
.field.idle{opacity:1}
.field.idle label,.field.idle input,.field.idle select{font-style:italic;color:var(--ink-soft)}
.field.wrong input,.field.wrong select{border:2px solid var(--alarm)}
.field-error{color:var(--alarm);margin:.2rem 0;font:.88rem/1.4 var(--lettering)}
.field-about{margin:.25rem 0 0;font:.84rem/1.4 var(--words);color:var(--ink-soft)}
.picker{margin:.35rem 0 0}
.picker summary{padding:.1rem 0}
.picks{list-style:none;padding:0;margin:.2rem 0}
.picks li{margin:.2rem 0}
.picks button{font-size:.84rem;padding:.15rem .5rem;min-height:1.75rem}
.picks .note{font-size:.82rem}
.picker-title{font-weight:600;margin:.5rem 0 .1rem}
.part-actions{margin:.2rem 0 .7rem}
.right fieldset.panes{margin-bottom:.9rem}
.text-pane{height:calc(100vh - 6rem);min-height:20rem;border:1px solid var(--ink)}
.reading-form{display:flex;flex-wrap:wrap;gap:.5rem .9rem;align-items:end;font:.88rem/1.3 var(--lettering);margin-bottom:.8rem}
.reading-form input{width:5.2rem;display:inline-block}
.kept-list{list-style:none;padding:0;display:grid;gap:.8rem}
.kept-list li{display:grid;grid-template-columns:8rem 1fr auto;gap:1.2rem;align-items:center;border:1px solid var(--rule);background:var(--sheet);padding:.7rem 1rem;max-width:none;margin:0}
.kept-list li.here{border-color:var(--ink);border-width:1.5px}
.kept-list h3{margin:0}.kept-list p{margin:0}
.compare #compare>h2{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden}
.check{display:inline-flex;gap:.35rem;align-items:center;font:.85rem/1.3 var(--lettering)}
.send-ways{display:grid;gap:1.2rem 2.5rem;grid-template-columns:repeat(auto-fit,minmax(min(100%,17rem),1fr));margin-bottom:1.5rem}
.send-ways h3{margin-top:0}
#paper{width:100%;margin:.2rem 0 .5rem}
#link{font:.78rem/1.4 ui-monospace,Menlo,Consolas,monospace;word-break:break-all}
.qr{width:min(100%,17rem);background:#fff}
.qr-ground{fill:#fff}.qr-ink{fill:#000}
.whole-page{border-top:1.5px solid var(--ink);padding-top:1.4rem}
@media screen{.whole-page>.print-sheet{max-width:48rem;margin:0 auto;padding:1.4rem 1.6rem 2rem;border:1px solid var(--rule);background:var(--sheet)}}
.whole-page>a.skip,.whole-page .toolbar,.whole-page .no-print,.whole-page .player-controls,.whole-page .scrub-track{display:none}
.close-sheet,.open-parts{display:none}
@media screen and (max-width:72rem){
.board{grid-template-columns:minmax(11rem,13rem) minmax(0,1fr) minmax(15rem,18rem);gap:1rem}
}
@media screen and (max-width:56rem){
html.board-page body{padding:0 .8rem 3rem}
.board{display:block}
.left,.right{display:none;position:fixed;inset:auto 0 0 0;max-height:78vh;background:var(--paper);border-top:2px solid var(--ink);z-index:5;padding:.8rem 1rem 2rem}
.board.sheet-parts .left,.board.sheet-part .right{display:block}
.close-sheet,.open-parts{display:inline-flex;margin-bottom:.6rem}
.open-parts{margin:0}
.part{min-height:2.75rem;padding-top:.5rem}
.head-tools button,.head-tools select{min-height:2.5rem}
.kept-list li{grid-template-columns:5rem 1fr}.kept-list .actions{grid-column:1/-1}
.question-head{grid-template-columns:6rem 1fr;gap:1rem}
.entry{grid-template-columns:1fr}
.text-pane{height:60vh}
.card{grid-template-columns:6.5rem 1fr;grid-template-rows:auto 1fr;gap:.1rem 1rem;padding:.7rem .8rem}
.card .thumb{grid-row:1/3}
.answer{padding:.5rem .7rem}
.answer .lead-answer{grid-template-columns:minmax(0,1fr) 5.4rem;column-gap:.7rem}
}
@media print{
html.board-page body{padding:0}
.notice,.send>h2,.left,.right,.timeline .actions,.readings-box,.drawing-head .switch{display:none}
.board{display:block}
.send{border:0;padding:0;margin:0}
.whole-page{border:0;padding:0}
}
`;
