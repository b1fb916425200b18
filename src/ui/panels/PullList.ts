import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PieceResult, PullsResult } from '../../core/PlanResult.ts';
import { formatLength, formatVolume } from '../../core/units.ts';
import { sayPull } from '../../report/sayPull.ts';
import { setPullAzimuths } from '../../session/partingActions.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { azimuthDeg } from '../azimuth.ts';
import { pullOf, tiltDeg } from '../chart/pullDisc.ts';
import { PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { namePiece, setPiecePull } from '../setPiecePull.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/NumberField.ts';
import '../fields/TextField.ts';

/** Two pulls nearer than this (cosine, half a degree) are the same to a hand. */
const SAME_PULL_COSINE = Math.cos(Math.PI / 360);

/** Each piece's name and pull as numbers, and the best pull it could have by itself. */
@customElement('scute-pull-list')
export class PullList extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .piece {
        display: grid;
        grid-template-columns: 20px minmax(0, 1fr) 84px 84px;
        gap: 4px 10px;
        align-items: end;
        margin-top: 14px;
      }
      .piece .swatch {
        width: 20px;
        height: 20px;
        margin-bottom: 12px;
      }
      .best {
        grid-column: 2 / -1;
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 10px;
        min-height: var(--target);
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
      .best button {
        flex: none;
        font-size: var(--size-body);
        color: var(--ink);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { answer, plan } = this.session;
    if (!answer) return nothing;
    const { lines, pullAzimuthsDeg, pieces } = plan.parting;
    const isOwn = pullAzimuthsDeg !== 'auto' || pieces.some((piece) => piece.pull !== null);
    return html`
      ${answer.result.pieces.map((piece, i) => this.renderPiece(piece, i))}
      ${
        lines === 'auto' && isOwn
          ? html`<div class="row actions">
            <button @click=${() => this.edit(chooseForMe())}>Choose the pulls for me</button>
          </div>`
          : nothing
      }
      <p class="small soft after">
        Degrees seen from above, counter-clockwise from the right (+x); rise above the level.
      </p>
    `;
  }

  private renderPiece(piece: PieceResult, i: number) {
    const azimuth = azimuthDeg(piece.pull);
    const rise = tiltDeg(piece.pull);
    const least = this.session.plan.scan.board === 'none' ? -90 : 0;
    return html`<div class="piece">
      <span class="swatch piece-${i % 6}"></span>
      <scute-text-field
        label="Piece ${piece.id}"
        .value=${piece.name}
        @value=${(e: ValueEvent<string>) => this.edit(namePiece(this.session, i, e.value))}
      ></scute-text-field>
      <scute-number-field
        label="Pull"
        unit="\u00b0"
        .value=${azimuth}
        step="5"
        digits="1"
        min="-360"
        max="720"
        @value=${(e: ValueEvent<number>) => this.setPull(i, pullOf(e.value, rise), e.isGesture)}
      ></scute-number-field>
      <scute-number-field
        label="Rise"
        unit="\u00b0"
        .value=${rise}
        step="5"
        digits="1"
        .min=${least}
        max="90"
        @value=${(e: ValueEvent<number>) => this.setPull(i, pullOf(azimuth, e.value), e.isGesture)}
      ></scute-number-field>
      ${this.renderBest(piece, i)}
    </div>`;
  }

  private renderBest({ id, pull, undercut }: PieceResult, i: number) {
    const pulls = undercut?.pulls ?? null;
    if (pulls === null) return nothing;
    const { best } = pulls;
    const isBest = dot(best.pull, pull) > SAME_PULL_COSINE;
    return html`<div class="best">
      <span>${isBest ? 'The best for it' : `Best ${sayPull(best.pull)}`}: ${this.sayWorth(pulls)}</span>
      ${
        isBest
          ? nothing
          : html`<button
            aria-label="Use it: the best pull for ${id}"
            @click=${() => this.setPull(i, best.pull, false)}
          >
            Use it
          </button>`
      }
    </div>`;
  }

  private sayWorth({ best, clearing }: PullsResult): string {
    const { units } = this.session.prefs;
    if (best.maxDepthMm === 0) return `free, ${best.leastDraftDeg.toFixed(1)}\u00b0 of draft`;
    const locks = `locks ${formatLength(best.maxDepthMm, units)}`;
    return clearing.length > 0
      ? `${locks}, which the rubber yields`
      : `${locks}, ${formatVolume(best.fillerMm3, units)} of filler`;
  }

  private setPull(i: number, pull: Vec3, isGesture: boolean): void {
    this.edit(setPiecePull(this.session, i, pull), isGesture ? `pull-${i}` : null);
  }

  private edit(edit: PlanEdit | null, gesture: string | null = null): void {
    if (edit) this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}

/** On the tool's own line: its azimuths again, and no piece with a pull of its own. */
const chooseForMe = (): PlanEdit => (plan) => {
  const { parting } = setPullAzimuths('auto')(plan);
  return {
    ...plan,
    parting: { ...parting, pieces: parting.pieces.map((piece) => ({ ...piece, pull: null })) },
  };
};

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
