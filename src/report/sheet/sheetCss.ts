import { PIECE_TINTS } from '../../core/picture/pictureInks.ts';

/** Swatches in the tints of the drawn pieces. */
const TINT_RULES = PIECE_TINTS.map(
  (tint, n) => `.shop-sheet .tint-${n} { background: rgb(${tint.join(' ')}); }`,
).join('\n');

/**
 * The look of the shop sheet, for paper and for the paper on the screen: a working drawing, graphite on white, one rust accent. Sizes
 * are those of print; weights to be mixed are read from a metre away. Everything hangs below `.shop-sheet`.
 */
export const SHEET_CSS = `
.shop-sheet {
  --ink: #22262a;
  --ink-soft: #565b5f;
  --line: #22262a;
  --line-soft: #c9c4b8;
  --accent: #a5401f;
  --wash: #f7efe9;
  color-scheme: light;
  color: var(--ink);
  background: #fff;
  font-size: 10.5pt;
  line-height: 1.32;
  font-variant-numeric: tabular-nums lining-nums;
  -webkit-print-color-adjust: exact;
  print-color-adjust: exact;
}
.shop-sheet * { box-sizing: border-box; }
.shop-sheet :is(h1, h2, h3, p, dl, dd, figure) { margin: 0; padding: 0; }
.shop-sheet .hidden { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
.shop-sheet h1 { font-size: 20pt; line-height: 1.12; overflow-wrap: anywhere; }
.shop-sheet h2 { font-size: 15pt; line-height: 1.2; break-after: avoid; }
.shop-sheet h2 span { color: var(--accent); display: inline-block; min-width: 7mm; }
.shop-sheet h3 { font-size: 12.5pt; break-after: avoid; }

.shop-sheet .first { display: flex; flex-direction: column; border: 0.6mm solid var(--line); min-height: var(--page-height, 247mm); }
.shop-sheet .first header { padding: 4mm 5mm 3mm; border-bottom: 0.25mm solid var(--line); }
.shop-sheet .first header p { color: var(--ink-soft); overflow-wrap: anywhere; }
.shop-sheet .standing { border: 0.5mm solid var(--accent); padding: 2mm 3mm; margin: 3mm 5mm; font-size: 12pt; }
.shop-sheet .figures { display: grid; grid-template-columns: 1fr 1fr; grid-auto-rows: 1fr; flex: 1 1 auto; }
.shop-sheet figure { display: flex; flex-direction: column; padding: 2mm 3mm 1.5mm; border-bottom: 0.25mm solid var(--line-soft); }
.shop-sheet figure:nth-child(odd) { border-right: 0.25mm solid var(--line-soft); }
.shop-sheet figure svg { display: block; width: 100%; flex: 1 1 50mm; height: 50mm; min-height: 50mm; }
.shop-sheet figcaption { font-size: 9.5pt; color: var(--ink-soft); }
.shop-sheet figcaption b { color: var(--ink); }
.shop-sheet .legend { display: flex; flex-wrap: wrap; gap: 1mm 6mm; padding: 2mm 5mm 0; }
.shop-sheet .legend > :last-child { font-size: 9pt; color: var(--ink-soft); }
.shop-sheet svg text { font-family: inherit; font-weight: bold; fill: var(--ink); }
.shop-sheet .piece-name { text-anchor: middle; dominant-baseline: central; paint-order: stroke; stroke: #fff; stroke-width: 7px; stroke-linejoin: round; }
.shop-sheet .ring { fill: #fff; stroke: var(--ink); stroke-width: 2.5px; }
.shop-sheet .ring-number { text-anchor: middle; dominant-baseline: central; }
.shop-sheet .leader { stroke: var(--ink); stroke-width: 2px; }
.shop-sheet .spot { fill: var(--ink); }
.shop-sheet .bar { fill: none; stroke: var(--ink); stroke-width: 1.5px; }
.shop-sheet .bar-ink { fill: var(--ink); }
.shop-sheet .title-block { margin-top: 3mm; display: grid; grid-template-columns: repeat(6, auto); border-top: 0.6mm solid var(--line); break-inside: avoid; }
.shop-sheet .title-block div { padding: 2mm 2.5mm; border-right: 0.25mm solid var(--line); }
.shop-sheet .title-block div:last-child { border-right: none; }
.shop-sheet .title-block dt { font-size: 8.5pt; color: var(--ink-soft); }
.shop-sheet .title-block dd { font-size: 13pt; font-weight: bold; line-height: 1.15; }
.shop-sheet .title-block dd span { display: block; font-size: 8.5pt; font-weight: normal; color: var(--ink-soft); }

.shop-sheet .warnings { border: 0.5mm solid var(--accent); padding: 3mm 5mm 4mm; margin-top: 6mm; }
.shop-sheet .first .warnings { margin: 3mm 5mm; padding: 2mm 4mm 2.5mm; }
.shop-sheet .warnings h2 { color: var(--accent); }
.shop-sheet .warning { padding: 1.2mm 0 0; }
.shop-sheet .part { margin-top: 8mm; border-top: 0.6mm solid var(--line); padding-top: 2.5mm; }
.shop-sheet .block { margin-top: 3mm; }
.shop-sheet .part .block + .block { margin-top: 4.5mm; }
.shop-sheet .whole { break-inside: avoid; }
.shop-sheet .before { break-after: avoid; break-inside: avoid; }
.shop-sheet .intro { color: var(--ink-soft); }
.shop-sheet .plain { margin-top: 1mm; }
.shop-sheet .caution { border-left: 1mm solid var(--accent); background: var(--wash); padding: 1.4mm 3mm; margin-top: 1.4mm; break-inside: avoid; }

.shop-sheet table { border-collapse: collapse; width: 100%; margin-top: 1.5mm; }
.shop-sheet thead { display: table-header-group; }
.shop-sheet tr { break-inside: avoid; }
.shop-sheet tr:has(+ .beside) { break-after: avoid; }
.shop-sheet th { text-align: left; vertical-align: bottom; font-weight: normal; font-size: 9pt; line-height: 1.15; color: var(--ink-soft); padding: 1mm 3mm 1mm 0; border-bottom: 0.3mm solid var(--line); }
.shop-sheet td { text-align: left; vertical-align: baseline; padding: 1.5mm 3mm 1.5mm 0; border-bottom: 0.2mm solid var(--line-soft); }
.shop-sheet :is(th, td):last-child { padding-right: 0; }
.shop-sheet :is(th, td):is(.number, .weight) { text-align: right; }
.shop-sheet td.number { white-space: nowrap; }
.shop-sheet td.weight { font-size: 15pt; font-weight: bold; line-height: 1.1; white-space: nowrap; }
.shop-sheet .crowded :is(td, th) { padding-right: 1.2mm; }
.shop-sheet .crowded th { font-size: 8pt; overflow-wrap: anywhere; }
.shop-sheet .crowded td.weight { font-size: 14pt; }
.shop-sheet .crowded .under { font-size: 8pt; }
.shop-sheet .crowded td.write, .shop-sheet .crowded .room { min-width: 11mm; }
.shop-sheet .crowded .tick { width: 6mm; }
.shop-sheet .crowded .box { width: 4.5mm; height: 4.5mm; }
.shop-sheet .under { display: block; font-size: 9pt; font-weight: normal; line-height: 1.2; color: var(--ink-soft); }
.shop-sheet td.number .under { white-space: nowrap; }
.shop-sheet td.weight .under { white-space: normal; }
.shop-sheet .tick { width: 9mm; }
.shop-sheet .tint { width: 8mm; }
.shop-sheet .swatch { display: inline-block; width: 5mm; height: 4mm; border: 0.25mm solid var(--line); vertical-align: -0.4mm; }
${TINT_RULES}
.shop-sheet .box { display: inline-block; position: relative; width: 5mm; height: 5mm; border: 0.4mm solid var(--line); vertical-align: -0.8mm; }
.shop-sheet .box.done::after { content: "\\2713"; position: absolute; inset: -1.6mm 0 0 0.3mm; font-size: 15pt; line-height: 1; font-weight: bold; color: var(--accent); }
.shop-sheet td.write { min-width: 18mm; text-align: right; font-size: 12pt; vertical-align: bottom; }
.shop-sheet .room { display: block; height: 6mm; min-width: 16mm; border-bottom: 0.35mm dotted var(--line); }
.shop-sheet tr.total td { font-weight: bold; border-bottom: none; border-top: 0.3mm solid var(--line); }
.shop-sheet tr.total .under { font-weight: normal; }
.shop-sheet tr.quiet td { color: var(--ink-soft); }
.shop-sheet tr.beside { break-before: avoid; }
.shop-sheet tr.beside td { padding: 0 0 2mm; border-bottom: 0.2mm solid var(--line-soft); }
.shop-sheet .day td.number:nth-child(2) { text-align: left; font-weight: bold; }
.shop-sheet .day th.number:nth-child(2) { text-align: left; }
.shop-sheet .basis :is(td, th):first-child { min-width: 38mm; }
.shop-sheet .basis :is(td, th):nth-child(2) { min-width: 30mm; }
.shop-sheet .basis :is(td, th) { font-size: 9pt; padding-top: 0.8mm; padding-bottom: 0.8mm; }
.shop-sheet .facts { display: grid; grid-template-columns: 1fr 1fr; column-gap: 8mm; margin-top: 2mm; break-inside: avoid; }
.shop-sheet .facts div { display: flex; justify-content: space-between; align-items: baseline; gap: 4mm; padding: 1.3mm 0; border-bottom: 0.2mm solid var(--line-soft); }
.shop-sheet .facts dd { text-align: right; font-weight: bold; }
.shop-sheet footer { margin-top: 8mm; border-top: 0.6mm solid var(--line); padding-top: 3mm; font-size: 9.5pt; break-inside: avoid; }

@media (max-width: 640px) {
  .shop-sheet .figures, .shop-sheet .facts { grid-template-columns: 1fr; }
  .shop-sheet figure:nth-child(odd) { border-right: none; }
  .shop-sheet .title-block { grid-template-columns: 1fr 1fr; }
  .shop-sheet .block { overflow-x: auto; }
}
@media screen {
  .shop-sheet .first { min-height: 0; }
  .shop-sheet figure svg { height: 84mm; min-height: 84mm; }
}
@media print {
  .shop-sheet .first { break-after: page; }
  .shop-sheet .first + * { margin-top: 0; }
  .shop-sheet .warnings + .part { margin-top: 6mm; }
}
`;
