import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { SessionState } from '../../../session/SessionStore.ts';
import type { DrafterState } from '../../control/LineDrafter.ts';
import { type Command, CommandEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sayBothLengths } from '../../sayLengths.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/LengthField.ts';

/** Two points of the mould and the distance that was measured between them on the real one. */
@customElement('scute-measure-fields')
export class MeasureFields extends LitElement {
  static override styles = [sharedStyles, panelStyles];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) drafter!: DrafterState;
  @property({ attribute: false }) measuredMm: number | null = null;

  @state() private trueMm: number | null = null;

  override render() {
    if (this.drafter.mode !== 'measure') {
      return html`<div class="row actions">
        <button @click=${() => this.start()} ?disabled=${!this.session.answer}>Set by a true distance</button>
      </div>`;
    }
    const measured = this.measuredMm;
    const { length } = this.drafter.points;
    return html`
      <p class="note" role="status">
        ${
          measured === null
            ? `Click two points on the rubber whose distance you have measured. ${length} of 2 points set.`
            : `Between them now: ${sayBothLengths(measured)}. Drag a point to better it, or click to begin again.`
        }
      </p>
      ${
        measured === null
          ? nothing
          : html`<div class="stack">
            <scute-length-field
              label="True distance"
              .mm=${this.trueMm ?? measured}
              .system=${this.session.prefs.units}
              @value=${(e: ValueEvent<number>) => {
                this.trueMm = e.value;
              }}
            ></scute-length-field>
          </div>`
      }
      <div class="row actions">
        <button class="primary" ?disabled=${measured === null} @click=${() => this.take(measured)}>Take it</button>
        <button ?disabled=${length === 0} @click=${() => this.ask({ do: 'draw-back' })}>One point back</button>
        <button class="quiet" @click=${() => this.ask({ do: 'measure-cancel' })}>Cancel</button>
      </div>
    `;
  }

  private start(): void {
    this.trueMm = null;
    this.ask({ do: 'measure-start' });
  }

  private take(measured: number | null): void {
    if (measured === null) return;
    this.ask({ do: 'measure-take', trueMm: this.trueMm ?? measured });
    this.trueMm = null;
  }

  private ask(command: Command): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
