// Colours and sizes of the page as custom properties: light theme, dark theme, and black for print.

/** Text and marks have a contrast of at least 4.5:1, meaningful lines and shapes 3:1 (WCAG 2.2, 1.4.3 and 1.4.11). */
const day = `
--paper:#f6f2e8;--sheet:#fcfaf4;--ink:#1b2730;--ink-soft:#4c5860;--rule:#8d8876;--hair:#d9d2c0;
--water:#bcd8df;--water-deep:#8fbecb;--water-ink:#17596d;--watch:#7a4d00;--watch-ground:#f3e6c8;--alarm:#9b2317;--alarm-ground:#f6ddd4;
--fine:#1f5b43;--media:#857b66;--media-wet:#cfe3e3;--media-working:#9cc5c4;--ghost:#6b6656;--series-a:#1b2730;--series-b:#17596d;--series-c:#8a4a12;--series-d:#5b3f7a;`;

const night = `
--paper:#0e1d29;--sheet:#132635;--ink:#efe8d8;--ink-soft:#b9c2c4;--rule:#76909e;--hair:#2b4355;
--water:#1e4d60;--water-deep:#2f7289;--water-ink:#93d4e4;--watch:#eabf6a;--watch-ground:#3a3019;--alarm:#ff9f8a;--alarm-ground:#45211c;
--fine:#8fd3b1;--media:#9aa79f;--media-wet:#1e4548;--media-working:#34706f;--ghost:#93a0a3;--series-a:#efe8d8;--series-b:#93d4e4;--series-c:#f0b27a;--series-d:#c9b3ea;`;

const ink = `
--paper:#fff;--sheet:#fff;--ink:#000;--ink-soft:#333;--rule:#555;--hair:#bbb;
--water:#e4e4e4;--water-deep:#c4c4c4;--water-ink:#000;--watch:#000;--watch-ground:#fff;--alarm:#000;--alarm-ground:#fff;
--fine:#000;--media:#555;--media-wet:#e9e9e9;--media-working:#c8c8c8;--ghost:#555;--series-a:#000;--series-b:#000;--series-c:#000;--series-d:#000;`;

export const tokens = `
:root{color-scheme:light dark;
--words:"Iowan Old Style","Palatino Linotype",Palatino,"URW Palladio L",P052,"Book Antiqua",Georgia,"DejaVu Serif",serif;
--lettering:"Avenir Next","Segoe UI","Helvetica Neue",Arial,"Liberation Sans","DejaVu Sans Condensed","DejaVu Sans",sans-serif;
--step:1.5rem;--measure:42rem;${day}}
@media screen and (prefers-color-scheme:dark){:root{${night}}}
@media print{:root{color-scheme:light;${ink}}}
`;
