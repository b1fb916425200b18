import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { MarkedArea } from '../../core/plan/PlanDocument.ts';
import type { UnitSystem } from '../../core/units.ts';
import type { PlanEdit } from '../../session/SessionStore.ts';
import { PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { removeIcon } from '../icons.ts';
import { sharedStyles } from '../sharedStyles.ts';
import '../fields/LengthField.ts';
import '../fields/TextField.ts';

/** What the plan's lists of marked areas can do with one of theirs. */
export interface AreaEdits {
  readonly change: (change: Partial<Pick<MarkedArea, 'name' | 'radiusMm'>>) => PlanEdit;
  readonly remove: () => PlanEdit;
}

/** One marked area: its name, its radius, and the way to remove it. */
@customElement('scute-area-fields')
export class AreaFields extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: grid;
        grid-template-columns: minmax(0, 1fr) 104px var(--target);
        gap: var(--gap-2);
        align-items: end;
        margin-top: var(--gap-3);
      }
      button {
        padding: 0;
      }
    `,
  ];

  /** What kind of area it is. */
  @property() label = '';
  /** Names a drag of its radius in the history. */
  @property() gesture = '';
  @property({ attribute: false }) area!: MarkedArea;
  @property({ attribute: false }) units!: UnitSystem;
  @property({ attribute: false }) edits!: AreaEdits;

  override render() {
    const { area, edits } = this;
    return html`
      <scute-text-field
        label=${this.label}
        .value=${area.name}
        @value=${(e: ValueEvent<string>) => this.edit(edits.change({ name: e.value }))}
      ></scute-text-field>
      <scute-length-field
        label="Radius"
        .mm=${area.radiusMm}
        .system=${this.units}
        @value=${(e: ValueEvent<number>) =>
          this.edit(edits.change({ radiusMm: e.value }), e.isGesture ? this.gesture : null)}
      ></scute-length-field>
      <button
        class="quiet"
        aria-label="Remove ${area.name}"
        title="Remove the area"
        @click=${() => this.edit(edits.remove())}
      >
        ${removeIcon}
      </button>
    `;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}
