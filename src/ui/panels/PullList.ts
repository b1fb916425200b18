import { html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PieceResult, PullFigures, PullsResult } from '../../core/PlanResult.ts';
import { formatLength, formatVolume } from '../../core/units.ts';
import { sayPull } from '../../report/sayPull.ts';
import { setPullAzimuths } from '../../session/partingActions.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { azimuthDeg } from '../azimuth.ts';
import { pullOf, tiltDeg } from '../chart/pullDisc.ts';
import { PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import type { SortCell, SortColumn, SortRow } from '../parts/SortRow.ts';
import { namePiece, setPiecePull } from '../setPiecePull.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/NumberField.ts';
import '../fields/TextField.ts';
import '../parts/SortTable.ts';

const COLUMNS: readonly SortColumn[] = [
  { key: 'piece', title: 'Piece' },
  { key: 'pull', title: 'Pull, \u00b0' },
  { key: 'rise', title: 'Rise, \u00b0' },
  { key: 'best', title: 'Best by itself', align: 'start' },
];

/** Two pulls nearer than this (cosine, half a degree) are the same to a hand. */
const SAME_PULL_COSINE = Math.cos(Math.PI / 360);

/** Each piece's name and pull as numbers, and the best pull it could have by itself. */
@customElement('scute-pull-list')
export class PullList extends LitElement {
  static override styles = [sharedStyles, panelStyles];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { answer, plan } = this.session;
    if (!answer) return nothing;
    const { lines, pullAzimuthsDeg, pieces } = plan.parting;
    const isOwn = pullAzimuthsDeg !== 'auto' || pieces.some((piece) => piece.pull !== null);
    return html`
      <scute-table
        isNameAbove
        caption="Pieces with their pulls, and the best pull of each by itself"
        .columns=${COLUMNS}
        .rows=${answer.result.pieces.map((piece, i) => this.rowOf(piece, i))}
      ></scute-table>
      ${
        lines === 'auto' && isOwn
          ? html`<div class="row actions">
            <button @click=${() => this.edit(chooseForMe())}>Choose the pulls for me</button>
          </div>`
          : nothing
      }
      <p class="small soft after">
        Degrees seen from above, counter-clockwise from the right (+x); rise above the level. Pulls are compared on a
        simplified surface, without the other pieces: figures to choose by. Those of the plan are under Undercuts.
      </p>
    `;
  }

  private rowOf(piece: PieceResult, i: number): SortRow {
    const { id, name, pull, undercut } = piece;
    const azimuth = azimuthDeg(pull);
    const rise = tiltDeg(pull);
    const least = this.session.plan.scan.board === 'none' ? -90 : 0;
    return {
      key: id,
      swatch: `piece-${i % 6}`,
      cells: {
        piece: {
          text: name,
          view: html`<scute-text-field
            bare
            label="Name of piece ${id}"
            .value=${name}
            @value=${(e: ValueEvent<string>) => this.edit(namePiece(this.session, i, e.value))}
          ></scute-text-field>`,
        },
        pull: {
          text: azimuth.toFixed(1),
          value: azimuth,
          view: html`<scute-number-field
            class="typed"
            bare
            label="Pull of ${id}"
            unit="\u00b0"
            .value=${azimuth}
            step="5"
            digits="1"
            min="-360"
            max="720"
            @value=${(e: ValueEvent<number>) => this.setPull(i, pullOf(e.value, rise), e.isGesture)}
          ></scute-number-field>`,
        },
        rise: {
          text: rise.toFixed(1),
          value: rise,
          view: html`<scute-number-field
            class="typed"
            bare
            label="Rise of ${id}"
            unit="\u00b0"
            .value=${rise}
            step="5"
            digits="1"
            .min=${least}
            max="90"
            @value=${(e: ValueEvent<number>) => this.setPull(i, pullOf(azimuth, e.value), e.isGesture)}
          ></scute-number-field>`,
        },
        best: this.bestCell(piece, undercut?.pulls ?? null, i),
      },
    };
  }

  /** The best pull for the piece by itself; it sorts by how deep the piece would lock then. */
  private bestCell({ id, pull }: PieceResult, pulls: PullsResult | null, i: number): SortCell {
    if (pulls === null) return { text: '\u2026', value: null, tone: 'soft' };
    const { best } = pulls;
    const isBest = dot(best.pull, pull) > SAME_PULL_COSINE;
    const text = isBest ? 'this one' : sayPull(best.pull);
    return {
      text,
      under: isBest
        ? [this.sayWorth(best, pulls)]
        : [this.sayWorth(best, pulls), `now ${this.sayWorth(pulls.present, pulls)}`],
      value: best.maxDepthMm,
      ...(isBest
        ? {}
        : {
            view: html`<button aria-label="Use ${text}: the best pull for ${id}" @click=${() => this.setPull(i, best.pull, false)}>
              Use ${text}
            </button>`,
          }),
    };
  }

  private sayWorth(of: PullFigures, { best, clearing }: PullsResult): string {
    const { prefs, plan } = this.session;
    if (of.maxDepthMm === 0) return `free, ${of.leastDraftDeg.toFixed(1)}\u00b0 of draft`;
    const locks = `locks ${formatLength(of.maxDepthMm, prefs.units)}`;
    // What clears the piece locks no deeper than the rubber yields, or than can be told.
    const isClear =
      clearing.length > 0 && of.maxDepthMm <= Math.max(best.maxDepthMm, plan.parting.rubberGiveMm);
    return isClear
      ? `${locks}, which the rubber yields`
      : `${locks}, ${formatVolume(of.fillerMm3, prefs.units)} of filler`;
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
