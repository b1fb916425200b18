import type { LineShim } from '../../core/shell/shimsOfRun.ts';
import { formatLength, type UnitSystem } from '../../core/units.ts';
import { escapeHtml } from '../sheet/escapeHtml.ts';
import { PAPER_MM, type Paper } from '../sheet/pageRules.ts';
import { cutStrips, type ShimStrip } from './cutStrips.ts';

export interface TemplateOptions {
  readonly paper: Paper;
  readonly units: UnitSystem;
  readonly job: string;
  /** Strips are cut no longer than the sheet comes, mm, and overlap by so much. */
  readonly stripMm: number;
  readonly overlapMm: number;
}

/** Free paper on every side, mm, and room for the page's head and scale bar. */
const MARGIN_MM = 12;
const HEAD_MM = 20;
/** Between strips, with room for what is written under each, mm. */
const GAP_MM = 12;
const BAR_MM = 100;
/** A tick on the edge on the rubber every so often, mm along it. */
const TICK_MM = 50;

/**
 * Templates of the shims, true to size, as a whole HTML file without script: every strip with the edge that stands on the rubber,
 * its overlap, its ticks and where to snip it; on each page a bar of 100 mm to check the print by.
 */
export function templatesPage(shims: readonly LineShim[], options: TemplateOptions): string {
  const paper = PAPER_MM[options.paper];
  // Landscape: a strip lies along the paper.
  const page = { widthMm: paper.heightMm - 2 * MARGIN_MM, heightMm: paper.widthMm - 2 * MARGIN_MM };
  const room = page.heightMm - HEAD_MM;
  const drawn = shims.flatMap((line, n) => {
    const strips = cutStrips(line.shim, {
      mostMm: options.stripMm - options.overlapMm,
      overlapMm: options.overlapMm,
      widthMm: page.widthMm,
      heightMm: room - GAP_MM,
    });
    return strips.map((strip, k) => ({
      strip,
      label: `Line ${n + 1}, ${line.between.join(' to ')}: strip ${k + 1} of ${strips.length}, ${strip.fromMm === 0 ? '0' : formatLength(strip.fromMm, options.units)} to ${formatLength(strip.toMm, options.units)} of ${formatLength(line.lengthMm, options.units)}`,
    }));
  });
  const pages: (typeof drawn)[] = [];
  let used = Infinity;
  for (const one of drawn) {
    const need = one.strip.heightMm + GAP_MM;
    if (used + need > room) {
      pages.push([]);
      used = 0;
    }
    pages[pages.length - 1].push(one);
    used += need;
  }
  const body = pages
    .map((strips, n) => {
      let y = HEAD_MM;
      const parts = strips.map(({ strip, label }) => {
        const part = `<g transform="translate(0 ${mm(y)})">${drawStrip(strip)}<text x="0" y="${mm(strip.heightMm + 6)}">${escapeHtml(label)}</text></g>`;
        y += strip.heightMm + GAP_MM;
        return part;
      });
      return `<svg xmlns="http://www.w3.org/2000/svg" width="${mm(page.widthMm)}mm" height="${mm(page.heightMm)}mm" viewBox="0 0 ${mm(page.widthMm)} ${mm(page.heightMm)}" role="img" aria-label="Templates, page ${n + 1}">${drawHead(options.job, n + 1, pages.length, page.widthMm)}${parts.join('')}</svg>`;
    })
    .join('\n');
  const size = `${mm(paper.heightMm)}mm ${mm(paper.widthMm)}mm`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(`Shim templates: ${options.job}`)}</title>
<style>@page{size:${size};margin:${MARGIN_MM}mm}html{background:#fff}body{margin:0}svg{display:block;break-after:page}svg:last-child{break-after:auto}text{font:4px system-ui,sans-serif;fill:#23272a}.head{font-weight:700}.rubber{fill:none;stroke:#a63d1f;stroke-width:.5}.edge{fill:none;stroke:#23272a;stroke-width:.3}.seam,.snip{stroke:#23272a;stroke-width:.3;stroke-dasharray:1.5 1}.tick{stroke:#a63d1f;stroke-width:.3}.bar{fill:#23272a}@media screen{svg{margin:10mm auto;outline:.2mm solid #ccc}}</style>
</head>
<body>
${body || '<p>One piece without a line: there is no parting wall, and no shim to cut.</p>'}
</body>
</html>
`;
}

function drawHead(job: string, page: number, pages: number, widthMm: number): string {
  const left = mm(widthMm - BAR_MM);
  return `<text class="head" x="0" y="5">${escapeHtml(job)}: shims, true to size</text><text x="0" y="10">Page ${page} of ${pages}</text><text x="0" y="16">Print at 100 %, then measure the bar. Rust edge on the rubber; dashed: the next strip begins; rings: snip inward.</text><rect class="bar" x="${left}" y="7" width="${BAR_MM}" height="1.2"/><text x="${left}" y="5">100 mm</text>`;
}

function drawStrip(strip: ShimStrip): string {
  const { inner, outer } = strip;
  const ends = `<path class="edge" d="M${at(inner, 0)}L${at(outer, 0)}${line(outer, 2)}L${at(inner, inner.length - 2)}"/>`;
  const rubber = `<path class="rubber" d="M${at(inner, 0)}${line(inner, 2)}"/>`;
  const seam = strip.seam ? `<path class="seam" d="M${pair(strip.seam[0])}L${pair(strip.seam[1])}"/>` : '';
  const snips = strip.snips.map(
    ([x, y]) => `<circle class="snip" fill="none" cx="${mm(x)}" cy="${mm(y)}" r="1.5"/>`,
  );
  return `${ends}${rubber}${seam}${snips.join('')}${ticks(strip)}`;
}

/** Short marks across the edge on the rubber, every TICK_MM of the whole line, so that strips can be set by a tape. */
function ticks({ inner, fromMm }: ShimStrip): string {
  let along = fromMm;
  let marks = '';
  for (let i = 0; i + 3 < inner.length; i += 2) {
    const dx = inner[i + 2] - inner[i];
    const dy = inner[i + 3] - inner[i + 1];
    const length = Math.hypot(dx, dy);
    const next = Math.ceil(along / TICK_MM + 1e-9) * TICK_MM;
    if (next <= along + length && length > 0) {
      const u = (next - along) / length;
      const x = inner[i] + u * dx;
      const y = inner[i + 1] + u * dy;
      // Into the sheet, which lies to the left: upward on paper.
      marks += `<path class="tick" d="M${mm(x)} ${mm(y)}l${mm((3 * dy) / length)} ${mm((-3 * dx) / length)}"/>`;
    }
    along += length;
  }
  return marks;
}

const mm = (value: number): string => String(Number(value.toFixed(3)));
const pair = ([x, y]: readonly [number, number]): string => `${mm(x)} ${mm(y)}`;
const at = (edge: Float64Array, i: number): string => `${mm(edge[i])} ${mm(edge[i + 1])}`;

function line(edge: Float64Array, from: number): string {
  let path = '';
  for (let i = from; i < edge.length; i += 2) path += `L${at(edge, i)}`;
  return path;
}
