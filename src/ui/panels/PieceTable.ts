import { html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PieceResult } from '../../core/PlanResult.ts';
import { formatArea, formatLength, formatVolume } from '../../core/units.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import type { SortCell, SortColumn } from '../parts/SortRow.ts';
import { massCell } from '../sayAmounts.ts';
import { sayPiece } from '../sayPiece.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../parts/SortTable.ts';

const COLUMNS: readonly SortColumn[] = [
  { key: 'piece', title: 'Piece' },
  { key: 'area', title: 'Area' },
  { key: 'locks', title: 'Locks' },
  { key: 'filler', title: 'Filler' },
  { key: 'mass', title: 'Weight' },
];

/** The pieces: rubber covered, deepest lock, filler for what locks too deep, weight. */
@customElement('scute-piece-table')
export class PieceTable extends LitElement {
  static override styles = [sharedStyles, panelStyles];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { answer, prefs } = this.session;
    if (!answer) return html`<p class="note">The pieces come with the first answer.</p>`;
    const rows = answer.result.pieces.map((piece, i) => ({
      key: piece.id,
      swatch: `piece-${i % 6}`,
      cells: {
        piece: { text: sayPiece(piece) },
        area: { text: formatArea(piece.areaMm2, prefs.units), value: piece.areaMm2 },
        ...this.lockCells(piece),
        mass: massCell(piece.massG, piece.massErrorG, prefs.units),
      },
    }));
    return html`<scute-table
      caption="Pieces with the area of rubber they cover, how deep they lock, filler and weight"
      .columns=${COLUMNS}
      .rows=${rows}
    ></scute-table>`;
  }

  private lockCells({ undercut }: PieceResult): { readonly locks: SortCell; readonly filler: SortCell } {
    const { prefs, plan } = this.session;
    if (undercut === null) {
      const open: SortCell = { text: '\u2026', value: null, tone: 'soft' };
      return { locks: open, filler: open };
    }
    const { maxDepthMm, maxDepthErrorMm, beyondGive } = undercut;
    const none: SortCell = { text: '\u2013', value: 0, tone: 'soft' };
    if (maxDepthMm === 0) return { locks: { text: 'nowhere', value: 0 }, filler: none };
    const isDeep = maxDepthMm > plan.parting.rubberGiveMm;
    return {
      locks: {
        text: formatLength(maxDepthMm, prefs.units),
        under: [isDeep ? `\u00b1 ${formatLength(maxDepthErrorMm, prefs.units)}` : 'yields'],
        value: maxDepthMm,
        ...(isDeep ? { tone: 'warn' } : {}),
      },
      filler: isDeep
        ? { text: formatVolume(beyondGive.fillerMm3, prefs.units), value: beyondGive.fillerMm3 }
        : none,
    };
  }
}
