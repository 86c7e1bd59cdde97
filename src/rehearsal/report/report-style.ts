/** The report's whole style: day, night by the reader's setting, and paper. No link leads outside. */
export const REPORT_STYLE = `
:root {
  --paper: #fbfaf6; --ink: #1c2328; --soft: #57616a; --hair: #d9d6cc; --alarm: #a8231b;
  --wash: #f3efe4; color-scheme: light;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #10151a; --ink: #d8dbd6; --soft: #98a2a8; --hair: #2b343b; --alarm: #ff8b7d;
    --wash: #182027; color-scheme: dark;
  }
}
@page { margin: 15mm; }
@media print {
  :root { --paper: #fff; --ink: #000; --soft: #333; --hair: #bbb; --alarm: #a8231b; --wash: #fff; color-scheme: light;
    font-size: 13px; }
  article, figure, tr, p { break-inside: avoid; }
  h1, h2, h3, section > p { break-after: avoid; }
}
* { box-sizing: border-box; }
body {
  margin: 0 auto; max-width: 60rem; padding: 1.5rem 1rem 3rem; background: var(--paper);
  color: var(--ink); font: 1rem/1.5 Charter, "Bitstream Charter", Georgia, serif;
}
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 .3rem; }
h2 { font-size: 1.25rem; margin: 2.5rem 0 .4rem; padding-top: .8rem; border-top: 2px solid var(--ink); }
h3 { font-size: 1.05rem; margin: 0; }
.wide + h3 { margin-top: 1.6rem; }
p { margin: .3rem 0; max-width: 44rem; }
.soft, figcaption, thead th { color: var(--soft); }
.verdict { font-weight: bold; }
.verdict.broken, .priority { color: var(--alarm); }
ul.misses { margin: .3rem 0; padding-left: 1.2rem; max-width: 44rem; }
article { margin: 1.4rem 0; padding-left: .9rem; border-left: 3px solid var(--alarm); }
figure { margin: .8rem 0; }
figcaption { font-size: .85rem; }
.frame { display: grid; grid-template-columns: 5.5rem 1fr; }
.scale { display: flex; flex-direction: column; justify-content: space-between; padding-right: .5rem;
  text-align: right; font-size: .8rem; line-height: 1; color: var(--soft); }
.plot { position: relative; height: 9rem; border-left: 1px solid var(--ink); border-bottom: 1px solid var(--ink); }
.plot.low { height: 5rem; }
.plot svg { display: block; width: 100%; height: 100%; overflow: hidden; }
.span { grid-column: 2; display: flex; justify-content: space-between; font-size: .8rem; color: var(--soft); }
.numbers { position: relative; grid-column: 2; height: 1.2rem; font-size: .8rem; font-weight: bold; color: var(--alarm); }
.numbers span { position: absolute; transform: translateX(-50%); white-space: nowrap; }
svg path, svg line { fill: none; vector-effect: non-scaling-stroke; }
.value { stroke: var(--ink); stroke-width: 1.8; }
.limit { stroke: var(--ink); stroke-width: 1.2; stroke-dasharray: 6 4; }
.along, .speed-0 { stroke: var(--ink); stroke-width: 1.3; }
.speed-1, .speed-2, .speed-3 { stroke: var(--soft); stroke-width: 1.3; stroke-dasharray: 3 2; }
svg .beyond { fill: var(--alarm); fill-opacity: .22; }
.delay { fill: var(--soft); fill-opacity: .25; }
.present { fill: var(--alarm); fill-opacity: .14; }
.good { fill: var(--soft); fill-opacity: .18; }
.raised { stroke: var(--alarm); stroke-width: 2; }
.returned { stroke: var(--alarm); stroke-width: 1; stroke-dasharray: 2 3; }
.missed { stroke: var(--alarm); stroke-width: 2; stroke-dasharray: 5 4; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; margin: .6rem 0; font-size: .9rem; }
th, td { text-align: left; font-weight: normal; padding: .2rem .9rem .2rem 0; border-bottom: 1px solid var(--hair); vertical-align: top; }
@media (max-width: 34rem) {
  .frame { grid-template-columns: 4.2rem 1fr; }
  .plot { height: 7rem; }
}
`;
