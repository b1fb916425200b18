import { css, html, svg, type TemplateResult } from 'lit';
import { type FoundFill, type FoundStroke, foundLook } from '../../../view/overlay/foundLooks.ts';

const WIDTH = 30;
const HEIGHT = 18;

const DASHES: Readonly<Record<FoundStroke, string>> = { whole: 'none', broken: '4 3', dotted: '0.1 4' };

const FILLS: Readonly<Record<Exclude<FoundFill, null | 'dots'>, string>> = {
  rising: 'M2 17 17 2M9 17 24 2M16 17 28 5M2 10 10 2',
  falling: 'M2 2 17 17M9 2 24 17M16 2 28 14M2 9 10 17',
  level: 'M2 6H28M2 12H28',
  upright: 'M8 1V17M15 1V17M22 1V17',
};

/** How the findings with this code are drawn on the scan, as a key. */
export function foundSwatch(code: string): TemplateResult {
  const { stroke, fill } = foundLook(code);
  return html`<svg class="found" width=${WIDTH} height=${HEIGHT} viewBox="0 0 ${WIDTH} ${HEIGHT}" aria-hidden="true">
    ${fill === null ? svg`` : fill === 'dots' ? dots : svg`<path class="fill" d=${FILLS[fill]}></path>`}
    <rect class=${stroke} x="1.5" y="1.5" width=${WIDTH - 3} height=${HEIGHT - 3} stroke-dasharray=${DASHES[stroke]}></rect>
  </svg>`;
}

const dots = [6, 12].map((y, row) =>
  [7, 14, 21].map((x) => svg`<circle class="dot" cx=${x + 3.5 * row - 1} cy=${y} r="1.1"></circle>`),
);

/** For every element that shows the keys. */
export const foundSwatchStyles = css`
  svg.found {
    display: block;
    flex: none;
  }
  svg.found rect {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.6;
  }
  svg.found rect.dotted {
    stroke-width: 2.6;
    stroke-linecap: round;
  }
  svg.found .fill {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1;
  }
  svg.found .dot {
    fill: var(--ink);
  }
  .strong svg.found rect,
  .strong svg.found .fill {
    stroke: var(--accent);
  }
  .strong svg.found .dot {
    fill: var(--accent);
  }
`;
