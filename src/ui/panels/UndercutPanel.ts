import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PieceResult, UndercutResult } from '../../core/PlanResult.ts';
import { formatArea, formatLength, formatMass, formatVolume } from '../../core/units.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { setRubberGive } from '../../session/undercutActions.ts';
import { PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import type { SortColumn, SortRow } from '../parts/SortRow.ts';
import { sayBound } from '../sayAmounts.ts';
import { sayPrying } from '../sayPrying.ts';
import { sayRemoval } from '../sayRemoval.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/LengthField.ts';
import '../parts/SortTable.ts';

const COLUMNS: readonly SortColumn[] = [
  { key: 'piece', title: 'Piece' },
  { key: 'area', title: 'Undercut' },
  { key: 'locks', title: 'Locks' },
  { key: 'filler', title: 'Filler' },
  { key: 'draft', title: 'Draft' },
];

/** What locks each piece, with and without the rubber's give; how the pieces come off. */
@customElement('scute-undercuts')
export class UndercutPanel extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      scute-table {
        margin-top: 14px;
      }
      .words {
        margin-top: 12px;
      }
      .words li {
        padding: 7px 0;
        border-bottom: 1px solid var(--line-soft);
      }
      .words li.held {
        border-left: 3px solid var(--accent);
        padding-left: 12px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { answer, plan, prefs } = this.session;
    if (!answer) return html`<p class="note">They come with the first answer.</p>`;
    const { pieces } = answer.result;
    const isDone = pieces.every((piece) => piece.undercut !== null);
    return html`
      <scute-length-field
        label="The rubber may give"
        hint="How far your rubber yields, square to the pull: craft knowledge, not geometry."
        orNone
        .mm=${plan.parting.rubberGiveMm}
        .system=${prefs.units}
        @value=${(e: ValueEvent<number>) => this.edit(setRubberGive(e.value), e.isGesture ? 'rubber-give' : null)}
      ></scute-length-field>
      ${isDone ? this.renderTable(pieces) : html`<p class="note" role="status">${this.sayWaiting()}</p>`}
      ${isDone ? this.renderWords(pieces) : nothing}
    `;
  }

  private sayWaiting(): string {
    if (this.session.job) return 'Being worked out. The weights stand already.';
    if (this.session.failure) return 'Not worked out: the job was broken off.';
    return 'Not worked out for this plan.';
  }

  private renderTable(pieces: readonly PieceResult[]) {
    const give = formatLength(this.session.plan.parting.rubberGiveMm, this.session.prefs.units);
    return html`<scute-table
        caption="What is undercut in each piece, all of it and beyond the rubber's give"
        .columns=${COLUMNS}
        .rows=${pieces.flatMap((piece, i) => (piece.undercut ? [this.rowOf(piece, piece.undercut, i)] : []))}
      ></scute-table>
      <p class="small soft after">
        Beyond: of it what locks deeper than ${give}. Filler in thickened rubber. Draft: the least angle between surface and
        pull; below zero it faces away.
      </p>`;
  }

  private rowOf(piece: PieceResult, undercut: UndercutResult, i: number): SortRow {
    const { units } = this.session.prefs;
    const { areaMm2, areaErrorMm2, maxDepthMm, maxDepthErrorMm, fillerMm3, fillerErrorMm3, fillerG } =
      undercut;
    const { beyondGive, leastDraftDeg } = undercut;
    return {
      key: piece.id,
      swatch: `piece-${i % 6}`,
      cells: {
        piece: { text: piece.id },
        // "beyond" stands over its amount: beside it the last column would not fit.
        area: {
          text: formatArea(areaMm2, units),
          under: [
            `\u00b1 ${formatArea(areaErrorMm2, units)}`,
            'beyond',
            formatArea(beyondGive.areaMm2, units),
          ],
          value: areaMm2,
        },
        locks: {
          text: formatLength(maxDepthMm, units),
          under: [`\u00b1 ${formatLength(maxDepthErrorMm, units)}`],
          value: maxDepthMm,
        },
        filler: {
          text: formatVolume(fillerMm3, units),
          under: [
            sayBound(fillerErrorMm3, fillerMm3, 'volume', units),
            formatMass(fillerG, units),
            'beyond',
            formatMass(beyondGive.fillerG, units),
          ],
          value: fillerMm3,
        },
        draft: { text: sayDegrees(leastDraftDeg), value: leastDraftDeg },
      },
    };
  }

  /** Order of removal, the walls between the pieces, tipping. */
  private renderWords(pieces: readonly PieceResult[]) {
    const { answer, prefs } = this.session;
    const removal = answer?.result.removal ?? null;
    const order = removal ? sayRemoval(removal, pieces) : '';
    const isHeld = (removal?.locked.length ?? 0) > 0;
    return html`<ul class="words" aria-label="How the pieces come off">
      ${order ? html`<li class=${isHeld ? 'held' : ''}>${order}</li>` : nothing}
      ${pieces.map(({ id, undercut }) => {
        if (!undercut) return nothing;
        const { wall, prying } = undercut;
        const isTold = prying !== null && (prying.frees !== 'pull' || undercut.beyondGive.areaMm2 > 0);
        return html`
          ${
            wall.blockedMm > 0
              ? html`<li class="held">
                  The parting wall of ${id} stands in its own way along ${formatLength(wall.blockedMm, prefs.units)}
                  of line, ${sayDegrees(wall.leastDraftDeg)} at worst, while its neighbour is on.
                </li>`
              : nothing
          }
          ${isTold && prying ? html`<li>${sayPrying(id, prying, prefs.units)}</li>` : nothing}
        `;
      })}
    </ul>`;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}

const sayDegrees = (deg: number): string =>
  `${deg < 0 ? '\u2212' : ''}${Math.abs(deg).toFixed(Math.abs(deg) < 10 ? 1 : 0)}\u00b0`;
