// Print styles: black on white, no controls, one sheet per page, lengths in real millimetres.

export const print = `
@page{margin:14mm 13mm}
@page wide{size:landscape;margin:12mm}
.print-sheet table{width:100%}
.sheet-table td.blank{min-width:4.5rem;border-bottom:1px solid var(--ink)}
.true-size{max-width:none;height:auto;overflow:visible}
.strip-scroll{overflow-x:auto}
.strip text{font-family:var(--lettering);fill:var(--ink)}
.strip .cutline{stroke:var(--ink-soft);stroke-dasharray:2 1.2;fill:none}
.strip .mark-arrow{fill:var(--ink)}
.strip .mark{stroke:var(--ink);fill:none}
.strip .tick{stroke:var(--ink);fill:none;stroke-width:.18}
@media print{
input,select,textarea{color:inherit}
body.only-sheets main>:not(#sheets),body.only-sheets .title-block,body.only-sheets footer,body.only-sheets #sheets>:not(.print-me){display:none!important}
body.only-sheets #sheets{border:0;margin:0;padding:0}
body:not(.only-sheets) #sheet-summary:not(.print-me){display:none}
#sheet-summary summary,#sheet-summary>h2,#sheet-summary .sheet-of{display:none!important}
#sheet-summary .marks-line{border-bottom:1pt solid var(--ink);padding-bottom:.35rem;margin:0 0 .5rem}
#sheet-summary .summary-title{font:600 16pt/1.2 var(--words);margin:0 0 .1rem;max-width:none}
#sheet-summary .question{font-size:10.5pt;margin:0 0 .3rem;max-width:none}
#sheet-summary .summary-leads{border-top:.5pt solid var(--rule);padding-top:.3rem}
#sheet-summary .summary-leads li{margin:.2rem 0;line-height:1.25;font-size:10pt}
#sheet-summary p,#sheet-summary li{max-width:none}
#sheet-summary .card-line{font-size:10.5pt;margin:0 0 .3rem;max-width:none}
#sheet-summary .cutaway{max-height:62mm}
#sheet-summary .summary-wide .cutaway{max-height:42mm}
#sheet-summary figure{margin:0 0 .3rem}
#sheet-summary .marks small{display:inline;margin-right:.4em}
#sheet-summary .marks td .first{display:block}
#sheet-summary .marks td,#sheet-summary .marks th{padding-top:.15rem;padding-bottom:.15rem}
#sheet-summary .summary-columns{font-size:9pt;border-top:.5pt solid var(--rule);padding-top:.5rem}
#sheet-summary .summary-cautions{font-size:7.5pt;line-height:1.3;border-top:.5pt solid var(--rule);padding-top:.4rem}
#sheet-summary .summary-from{font:8pt/1.3 var(--lettering);color:var(--ink-soft);margin:.3rem 0 0}
#sheet-summary .note{font-size:8pt;margin:.2rem 0}
#sheet-summary .signature{margin-top:.5rem}
a{color:inherit}
html{font-size:10.5pt;background:#fff}
body{max-width:none;padding:0}
.toolbar,.actions,button,select,input[type=range],.no-print,.player-controls,.try,.handle,dialog,#read-out,#term-card,.fold>details>summary .gist,.groups .count{display:none!important}
.fold>details>summary::before{display:none}
.fold>details>summary{display:block;padding:.4rem 0}
.lead-answer.alarm{background:none;border-left:3pt solid #000}
:is(main,.sections)>section{break-inside:auto;padding-top:1rem;margin-top:1rem}
figure,table,.verdicts li,.clock{break-inside:avoid}
h2,h3,caption{break-after:avoid}
.strip-scroll{overflow:visible}
.table-scroll{overflow:clip}
th,td{overflow-wrap:break-word}
.keys th{overflow-wrap:anywhere}
.sheet-table{font-size:9pt;line-height:1.25}
.sheet-table th,.sheet-table td{padding-top:.2rem;padding-bottom:.2rem}
.step th{font-size:9.5pt;padding-top:.4rem}
.signature{margin-top:1.2rem}
td.n,.matrix td small{white-space:normal}
.matrix-block{page:wide}
.matrix-block .lead{display:none}
.matrix{font-size:8pt;width:100%;table-layout:fixed}
.matrix th[scope=row]{min-width:0}
.matrix thead th:first-child{width:21%}
.matrix thead th{white-space:normal}
.matrix td{min-width:0;padding:.2em .2em}
.matrix th[scope=row]{padding:.2em .4em .2em 0}
.matrix th small{display:inline;margin-left:.5em}
.matrix .verdict-word,.matrix td small,.matrix th small{font-size:7.5pt;letter-spacing:0;overflow-wrap:normal}
.gujer{display:none}
.processes{font-size:8.5pt;line-height:1.35;padding-left:2em}
.processes li{break-inside:avoid;max-width:none;margin:.3em 0}
.sources{font-size:8pt}
.pairs,pre{white-space:pre-wrap;overflow-wrap:anywhere}
.cutaway,.chart{max-height:225mm}
.verdicts .alarm{background:none;border:1.5pt solid #000}
.matrix td.FLOODS{outline:1.5pt solid #000;outline-offset:-2pt}
.print-sheet:not(.print-first){break-before:page}
.print-sheet{border:0;padding:0;margin:0}
details.behind{display:none}
.events button{display:grid!important}
.matrix td button{display:block!important}
details:not(.behind)::details-content{content-visibility:visible;display:block}
a{color:inherit;text-decoration:none}
}
`;
