import { html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { WorkNote } from '../../../core/PlanResult.ts';
import type { UnitSystem } from '../../../core/units.ts';
import { joinUnits } from '../../../report/joinUnits.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { mixStyles } from './mixStyles.ts';

/** Warnings of the answer, each said once: where two pieces are told the same, both are named before it. */
@customElement('scute-notes-of-work')
export class NoteItems extends LitElement {
  static override styles = [sharedStyles, mixStyles];

  @property({ attribute: false }) notes: readonly WorkNote[] = [];
  @property() units: UnitSystem = 'metric';
  /** Names of the pieces, by id. */
  @property({ attribute: false }) pieceNames: ReadonlyMap<string, string> = new Map();

  override render() {
    const byText = new Map<string, Set<string>>();
    for (const note of this.notes) {
      const { piece } = note;
      const text = joinUnits(readSaid(note, 'text', this.units));
      const pieces = byText.get(text) ?? new Set<string>();
      if (piece !== null) pieces.add(this.pieceNames.get(piece) ?? piece);
      byText.set(text, pieces);
    }
    if (byText.size === 0) return nothing;
    return html`<ul>
      ${[...byText].map(
        ([text, pieces]) => html`<li class="problem">
          ${pieces.size > 0 && ![...pieces].every((name) => text.includes(nameAlone(name))) ? html`<strong>${[...pieces].join(', ')}:</strong> ` : nothing}${text}
        </li>`,
      )}
    </ul>`;
  }
}

/** "B back" without its letter: the answer's own words call a piece by its name. */
function nameAlone(piece: string): string {
  return piece.split('\u00a0').at(-1) ?? piece;
}
