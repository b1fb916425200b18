import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { SessionState } from '../../session/SessionStore.ts';
import { changeNotHere, removeNotHere } from '../../session/undercutActions.ts';
import { CommandEvent } from '../events.ts';
import { sharedStyles } from '../sharedStyles.ts';
import type { AreaEdits } from './AreaFields.ts';
import { panelStyles } from './panelStyles.ts';
import './AreaFields.ts';

/** Areas that suggested lines keep out of: marked on the rubber, named, sized, removed. */
@customElement('scute-avoid-list')
export class AvoidList extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .mark {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 12px;
        margin-top: 14px;
      }
      .mark button {
        flex: none;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  /** True while the next click on the rubber marks one. */
  @property({ type: Boolean }) isMarking = false;

  override render() {
    const { plan, prefs, answer } = this.session;
    return html`
      <div class="mark">
        <span class="small soft">
          ${
            this.isMarking
              ? 'Click the middle of the spot on the rubber.'
              : 'A face, lettering: where no suggested line may run.'
          }
        </span>
        ${
          this.isMarking
            ? html`<button @click=${() => this.ask({ do: 'draw-cancel' })}>Cancel</button>`
            : html`<button ?disabled=${!answer} @click=${() => this.ask({ do: 'avoid-start' })}>Not here</button>`
        }
      </div>
      ${plan.parting.notHere.map(
        (area, i) => html`<scute-area-fields
          label="No line across"
          gesture="avoid-${i}"
          .area=${area}
          .units=${prefs.units}
          .edits=${{ change: (change) => changeNotHere(i, change), remove: () => removeNotHere(i) } satisfies AreaEdits}
        ></scute-area-fields>`,
      )}
      ${plan.parting.notHere.length === 0 ? nothing : html`<p class="small soft after">Taken in by the next search.</p>`}
    `;
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
