import { html, nothing, svg, type TemplateResult } from 'lit';
import type { Sketch, SketchInk, SketchShape } from './Sketch.ts';

/** The sketch as an image of its own size, hidden from the ear: words beside it say what it is. */
export function renderSketch({ widthPx, heightPx, shapes }: Sketch): TemplateResult {
  return html`<svg width=${widthPx} height=${heightPx} viewBox="0 0 ${widthPx} ${heightPx}" aria-hidden="true">
    ${renderShapes(shapes)}
  </svg>`;
}

/** Shapes for an svg that stands already. Colours are attributes, not styles: the page's policy lets no inline style in. */
export function renderShapes(shapes: readonly SketchShape[]): readonly TemplateResult[] {
  return shapes.map((shape) =>
    shape.kind === 'path'
      ? svg`<path
          class=${shape.name ?? nothing}
          d=${shape.d}
          fill=${shape.fill ? colourOf(shape.fill) : 'none'}
          stroke=${shape.stroke ? colourOf(shape.stroke) : nothing}
          stroke-width=${shape.widthPx ?? nothing}
          stroke-dasharray=${shape.dashPx?.join(' ') ?? nothing}
        ></path>`
      : svg`<text
          class=${shape.name ?? nothing}
          x=${shape.turnDeg ? nothing : shape.x}
          y=${shape.turnDeg ? nothing : shape.y}
          transform=${shape.turnDeg ? `translate(${shape.x} ${shape.y}) rotate(${shape.turnDeg})` : nothing}
          fill=${colourOf(shape.ink)}
          font-size=${shape.sizePx}
          text-anchor=${shape.anchor}
          paint-order="stroke"
          stroke=${shape.haloPx > 0 ? colourOf('--paper') : nothing}
          stroke-width=${shape.haloPx > 0 ? shape.haloPx : nothing}
          stroke-linejoin="round"
        >${shape.text}</text>`,
  );
}

function colourOf(ink: SketchInk): string {
  if (ink === 'on-plaster') return 'light-dark(var(--ink), var(--paper))';
  return ink.startsWith('--') ? `var(${ink})` : ink;
}
