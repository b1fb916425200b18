import { css, html, LitElement, type PropertyValues } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { LoggedBatch } from '../../../core/plan/PlanDocument.ts';
import { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import '../../fields/MassField.ts';
import '../../fields/OptionalNumberField.ts';

/** What was weighed and timed of a batch; null: it was not. */
export type BatchFigures = Pick<LoggedBatch, 'mixedG' | 'leftG' | 'layMin'>;

/** Asks for the true weight of a batch, in grams as the scale shows them; a unit that is typed with it counts. Fires ValueEvent with the figures, or with null when it is called off. */
@customElement('scute-batch-form')
export class BatchForm extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
      }
      .fields {
        display: grid;
        grid-template-columns: repeat(2, minmax(0, 1fr));
        gap: 10px;
        align-items: start;
      }
      .wide {
        grid-column: 1 / -1;
      }
      .problem {
        margin-top: 8px;
      }
      .row {
        margin-top: 10px;
      }
    `,
  ];

  /** To begin with: as planned, as timed, or as it was logged before. */
  @property({ attribute: false }) from: BatchFigures = { mixedG: 0, leftG: null, layMin: null };
  /** Of which batch, for the ear. */
  @property() label = '';

  @state() private figures: BatchFigures = this.from;
  @state() private problem = '';

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('label')) return;
    this.figures = this.from;
    this.problem = '';
  }

  protected override firstUpdated(): void {
    void this.updateComplete.then(() => {
      const field = this.renderRoot.querySelector<LitElement>('scute-mass-field');
      void field?.updateComplete.then(() => field.renderRoot.querySelector('input')?.focus());
    });
  }

  override render() {
    const { mixedG, leftG, layMin } = this.figures;
    return html`<div role="group" aria-label=${this.label}>
      <div class="fields">
        <scute-mass-field
          class="wide"
          label="True weight"
          .g=${mixedG}
          system="metric"
          @value=${(e: ValueEvent<number>) => this.set({ mixedG: e.value })}
        ></scute-mass-field>
        <scute-mass-field
          label="Left in the bucket"
          optional
          orNone
          placeholder="not weighed"
          .g=${leftG}
          system="metric"
          @value=${(e: ValueEvent<number | null>) => this.set({ leftG: e.value })}
        ></scute-mass-field>
        <scute-optional-number
          label="Laid in"
          unit="min"
          placeholder="not timed"
          digits="1"
          max="1000"
          .value=${layMin}
          @value=${(e: ValueEvent<number | null>) => this.set({ layMin: e.value })}
        ></scute-optional-number>
      </div>
      ${this.problem ? html`<p class="problem" role="alert">${this.problem}</p>` : ''}
      <div class="row">
        <button class="primary" @click=${this.take}>Tick it off</button>
        <button @click=${() => this.dispatchEvent(new ValueEvent<BatchFigures | null>(null))}>Not yet</button>
      </div>
    </div>`;
  }

  private set(change: Partial<BatchFigures>): void {
    this.figures = { ...this.figures, ...change };
    this.problem = '';
  }

  private take(): void {
    // A figure that could not be read stands in its field with the reason beside it; the batch waits for it.
    const wrong = [...this.renderRoot.querySelectorAll<LitElement>('scute-mass-field, scute-optional-number')]
      .map((field) => field.renderRoot.querySelector<HTMLInputElement>('input[aria-invalid="true"]'))
      .find((input) => input !== null);
    const { mixedG, leftG, layMin } = this.figures;
    if (wrong) wrong.focus();
    else if (!(mixedG > 0)) this.problem = 'Weigh what was mixed; it must be above 0.';
    else if (leftG !== null && leftG > mixedG)
      this.problem = 'More is left than was mixed; one of the two is off.';
    else if (layMin === 0)
      this.problem = 'Laid in no time at all? Leave the minutes empty if they were not timed.';
    else this.dispatchEvent(new ValueEvent<BatchFigures | null>(this.figures));
  }
}
