import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { changeNotHere, removeNotHere } from '../../session/undercutActions.ts';
import { CommandEvent, PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { removeIcon } from '../icons.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/LengthField.ts';
import '../fields/TextField.ts';

/** Areas that suggested lines keep out of: marked on the rubber, named, sized, removed. */
@customElement('scute-avoid-list')
export class AvoidList extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .area {
        display: grid;
        grid-template-columns: minmax(0, 1fr) 104px var(--target);
        gap: 8px;
        align-items: end;
        margin-top: 12px;
      }
      .area button {
        padding: 0;
      }
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
            ? html`<button @click=${() => this.ask({ do: 'clear-cancel' })}>Cancel</button>`
            : html`<button ?disabled=${!answer} @click=${() => this.ask({ do: 'avoid-start' })}>Not here</button>`
        }
      </div>
      ${plan.parting.notHere.map(
        (area, i) => html`<div class="area">
          <scute-text-field
            label="No line across"
            .value=${area.name}
            @value=${(e: ValueEvent<string>) => this.edit(changeNotHere(i, { name: e.value }))}
          ></scute-text-field>
          <scute-length-field
            label="Radius"
            .mm=${area.radiusMm}
            .system=${prefs.units}
            @value=${(e: ValueEvent<number>) =>
              this.edit(changeNotHere(i, { radiusMm: e.value }), e.isGesture ? `avoid-${i}` : null)}
          ></scute-length-field>
          <button
            class="quiet"
            aria-label="Remove ${area.name}"
            title="Remove the area"
            @click=${() => this.edit(removeNotHere(i))}
          >
            ${removeIcon}
          </button>
        </div>`,
      )}
      ${plan.parting.notHere.length === 0 ? nothing : html`<p class="small soft after">Taken in by the next search.</p>`}
    `;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
