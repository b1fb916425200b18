import { css, html, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { UnitSystem } from '../../core/units.ts';
import { capital } from '../panels/mix/capital.ts';
import { sayWeighing, sayWeighingBeside } from '../panels/mix/sayWeighing.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { benchStyles } from './benchStyles.ts';
import type { WeighedPart } from './planWeighing.ts';
import { sayWeighed } from './sayWeighed.ts';
import { TurnPartEvent } from './TurnPartEvent.ts';

/** A line of the batch: what is weighed, how it is stirred, and whether it is in. */
export interface PourLine extends WeighedPart {
  /** How it is stirred or what it is made from; '' for nothing. */
  readonly say: string;
  readonly isIn: boolean;
}

/** What goes into the bucket, top to bottom, the next part's weight as large as it can be. A touch anywhere on a line ticks it. */
@customElement('scute-batch-pour')
export class BatchPour extends LitElement {
  static override styles = [
    sharedStyles,
    benchStyles,
    css`
      li {
        border-bottom: 1px solid var(--line-soft);
      }
      li:first-child {
        border-top: 1px solid var(--line);
      }
      button {
        width: 100%;
        min-height: var(--bench-target);
        display: grid;
        grid-template-columns: 44px minmax(0, 1fr) auto;
        gap: 2px 16px;
        align-items: center;
        text-align: left;
        padding: 8px 12px;
        border: none;
        border-left: 8px solid transparent;
        background: none;
        line-height: 1.15;
      }
      .tick {
        width: 40px;
        height: 40px;
        border: 2px solid var(--line-control);
        display: grid;
        place-content: center;
        grid-row: 1 / span 2;
      }
      .item {
        font-size: var(--bench-text);
        overflow-wrap: anywhere;
      }
      .mass {
        grid-row: 1 / span 2;
        grid-column: 3;
        text-align: right;
        font-size: var(--bench-large);
        font-weight: bold;
        line-height: 1;
        white-space: nowrap;
      }
      .unit {
        font-size: 0.5em;
        font-weight: normal;
      }
      .beside {
        display: block;
        font-size: var(--bench-note);
        font-weight: normal;
        color: var(--ink-soft);
        margin-top: 4px;
      }
      .how {
        grid-column: 2;
        font-size: var(--bench-note);
        color: var(--ink-soft);
      }
      .now button {
        border-left-color: var(--accent);
        background: var(--paper-raised);
        padding-top: 16px;
        padding-bottom: 16px;
      }
      .now .mass {
        font-size: var(--bench-huge);
        color: var(--accent);
      }
      .now .how {
        color: var(--ink);
      }
      .now .item {
        font-weight: bold;
      }
      .in .item,
      .in .mass {
        color: var(--ink-soft);
      }
      .in .mass {
        font-size: var(--bench-text);
      }
      /* On a narrow screen the weight has a line of its own: it is never cut. */
      @media (max-width: 599px) {
        .now button {
          grid-template-columns: 44px minmax(0, 1fr);
        }
        .now .tick {
          grid-row: 1;
        }
        .now .mass,
        .now .how {
          grid-row: auto;
          grid-column: 1 / -1;
          text-align: left;
        }
      }
    `,
  ];

  @property({ attribute: false }) lines: readonly PourLine[] = [];
  @property() units: UnitSystem = 'metric';

  /** On a low screen the next weight may stand below the edge: it comes up by itself once the one before it is in. */
  protected override updated(changed: PropertyValues<this>): void {
    const before = changed.get('lines');
    const nextOf = (lines: readonly PourLine[]) => lines.findIndex(({ isIn }) => !isIn);
    if (!before || nextOf(before) === nextOf(this.lines)) return;
    this.renderRoot.querySelector('.now')?.scrollIntoView({ block: 'nearest' });
  }

  override render() {
    const next = this.lines.findIndex(({ isIn }) => !isIn);
    return html`<ol aria-label="To weigh, in this order">
      ${this.lines.map((line, n) => this.renderLine(line, n, n === next))}
    </ol>`;
  }

  private renderLine(line: PourLine, index: number, isNext: boolean) {
    const { item, massG, say, isIn } = line;
    const beside = sayWeighingBeside(massG, this.units);
    return html`<li class=${isIn ? 'in' : isNext ? 'now' : nothing}>
      <button
        role="checkbox"
        aria-checked=${isIn}
        aria-current=${isNext ? 'step' : nothing}
        @click=${() => this.dispatchEvent(new TurnPartEvent(index))}
      >
        <span class="tick" aria-hidden="true">${isIn ? tick : nothing}</span>
        <span class="item">${item}</span>
        <span class="mass"
          >${sayWeighing(massG)} <span class="unit">g</span>${beside ? html`<span class="beside">${beside}</span>` : nothing}</span
        >
        <span class="how">
          ${isIn ? 'is in' : [sayWeighed(line), say && `${capital(say)}.`].filter(Boolean).join(' ')}
        </span>
      </button>
    </li>`;
  }
}

const tick = html`<svg width="28" height="28" viewBox="0 0 28 28" fill="none" stroke="currentColor" stroke-width="4"><path d="m4 15 7 7L24 6" /></svg>`;
