import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatLength } from '../../core/units.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import { CommandEvent, PrefsEvent } from '../events.ts';
import { sayTouch, touchSpan } from '../figure/touchSpan.ts';
import { isTouching } from '../isTouching.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { slideReachMm } from '../slideReach.ts';
import { panelStyles } from './panelStyles.ts';

/** Each piece slid along its pull by itself, with what it meets on the way. */
@customElement('scute-slides')
export class SlideList extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .piece {
        display: grid;
        grid-template-columns: auto minmax(0, 1fr) 76px;
        gap: 0 10px;
        align-items: center;
        border-bottom: 1px solid var(--line-soft);
        padding-bottom: 8px;
      }
      .piece .swatch {
        width: 20px;
        height: 20px;
      }
      input[type='range'] {
        width: 100%;
      }
      output {
        text-align: right;
      }
      .words {
        grid-column: 2 / -1;
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
      .words.touching {
        color: var(--accent);
        font-weight: bold;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  /** Pieces slid by themselves, by index, mm; the others stand where all do. */
  @property({ attribute: false }) slides: ReadonlyMap<number, number> = new Map();

  override render() {
    const { answer, prefs } = this.session;
    const rubber = answer?.geometry.rubber;
    if (!answer || !rubber) return html`<p class="note">They come with the first answer.</p>`;
    const reachMm = slideReachMm(rubber.box);
    const isApart = prefs.apart > 0 || [...this.slides.values()].some((mm) => mm > 0);
    return html`
      ${answer.result.pieces.map((piece, i) => this.renderPiece(piece.id, i, reachMm))}
      <div class="row actions">
        <button ?disabled=${!isApart} @click=${this.closeAll}>Close the shell</button>
      </div>
    `;
  }

  private renderPiece(id: string, i: number, reachMm: number) {
    const { answer, prefs } = this.session;
    const touch = answer?.geometry.pieces[i]?.touch ?? null;
    const mm = this.slides.get(i) ?? prefs.apart * reachMm;
    const say = (length: number) => formatLength(length, prefs.units);
    const place = mm > 0 ? say(mm) : 'closed';
    const isIn = touch !== null && isTouching(touch, mm);
    return html`<div class="piece">
      <span class="name"><span class="swatch piece-${i % 6}"></span>${id}</span>
      <input
        type="range"
        min="0"
        max=${reachMm}
        step="0.5"
        aria-label="Slide ${id} along its pull"
        aria-valuetext=${place}
        .value=${String(mm)}
        @input=${(e: Event) =>
          this.dispatchEvent(
            new CommandEvent({
              do: 'slide-piece',
              piece: i,
              mm: Number((e.target as HTMLInputElement).value),
            }),
          )}
      />
      <output>${place}</output>
      ${
        touch === null
          ? nothing
          : html`<span class="words ${isIn ? 'touching' : ''}">
            ${sayTouch(id, touchSpan(touch), say)}${isIn ? '; it is in the rubber here' : ''}
          </span>`
      }
    </div>`;
  }

  private closeAll(): void {
    for (const piece of this.slides.keys()) {
      this.dispatchEvent(new CommandEvent({ do: 'slide-piece', piece, mm: 0 }));
    }
    this.dispatchEvent(new PrefsEvent({ apart: 0 }));
  }
}
