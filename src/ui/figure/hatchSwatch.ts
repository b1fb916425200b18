import { html, svg, type TemplateResult } from 'lit';
import type { LockKind } from './lockKinds.ts';

const WIDTH = 26;
const HEIGHT = 16;

/** Paths of the strokes that the view hatches each kind with; see view/surface/clayMaterial.ts. */
const STROKES: Readonly<Record<LockKind, string>> = {
  1: slanted(6, 1),
  2: slanted(6, -1),
  3: slanted(6, -1),
  4: 'M0 2.5H26M0 8H26M0 13.5H26',
};

/** A kind of hatching as it stands on the rubber, for the legend. */
export function hatchSwatch(kind: LockKind): TemplateResult {
  return swatch(`strokes kind-${kind}`, STROKES[kind]);
}

/** The wider hatching where the rubber yields. */
export const givingSwatch = swatch('strokes', slanted(12, 1));

/** Strokes both ways in accent: what is inside the rubber. */
export const touchSwatch = swatch('strokes touching', slanted(7, 1) + slanted(7, -1));

/** A line of depth with its number's place left open. */
export const depthSwatch = html`<svg class="hatch open" width=${WIDTH} height=${HEIGHT} aria-hidden="true">
  <path class="depth" d="M0 12C7 12 8 4 14 4S20 9 26 8"></path>
</svg>`;

/** The line at which the rubber yields no more. */
export const giveSwatch = html`<svg class="hatch open" width=${WIDTH} height=${HEIGHT} aria-hidden="true">
  <path class="give" d="M0 12C7 12 8 4 14 4S20 9 26 8"></path>
</svg>`;

/** Dots set like bricks, as on filler. */
export const fillerSwatch = html`<svg class="hatch filler" width=${WIDTH} height=${HEIGHT} aria-hidden="true">
  ${[2, 8, 14].map((y, row) =>
    [3, 9, 15, 21, 27].map((x) => svg`<circle cx=${x - (row % 2) * 3} cy=${y} r="1"></circle>`),
  )}
</svg>`;

function swatch(classes: string, path: string): TemplateResult {
  return html`<svg class="hatch" width=${WIDTH} height=${HEIGHT} aria-hidden="true">
    <path class=${classes} d=${path}></path>
  </svg>`;
}

/** Strokes at 45 degrees, `spacing` apart, rising to the right (`sense` 1) or falling (-1). */
function slanted(spacing: number, sense: 1 | -1): string {
  const step = spacing * Math.SQRT2;
  let path = '';
  for (let x = -HEIGHT + step / 2; x < WIDTH; x += step) {
    path += sense > 0 ? `M${x} ${HEIGHT}l${HEIGHT} ${-HEIGHT}` : `M${x} 0l${HEIGHT} ${HEIGHT}`;
  }
  return path;
}
