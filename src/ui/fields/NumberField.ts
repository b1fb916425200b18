import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import { fieldStyles } from './fieldStyles.ts';
import { readDecimal } from './readDecimal.ts';
import { ValueEvent } from './ValueEvent.ts';

/** A plain number with its unit beside it. A comma is taken as the decimal mark. Fires ValueEvent with the number. */
@customElement('scute-number-field')
export class NumberField extends LitElement {
  static override styles = [sharedStyles, fieldStyles];

  @property() label = '';
  @property({ type: Number }) value = 0;
  @property() unit = '';
  @property() hint = '';
  @property({ type: Number }) min = Number.NEGATIVE_INFINITY;
  @property({ type: Number }) max = Number.POSITIVE_INFINITY;
  @property({ type: Number }) step = 1;
  @property({ type: Number }) digits = 3;
  @property({ type: Boolean }) bare = false;

  @state() private typed: string | null = null;
  @state() private problem = '';

  private get text(): string {
    return String(Number(this.value.toFixed(this.digits)));
  }

  override render() {
    const label = this.unit ? `${this.label}, ${this.unit}` : this.label;
    return html`
      <label for="field" class=${this.bare ? 'visually-hidden' : nothing}>${label}</label>
      <input
        id="field"
        inputmode="decimal"
        autocomplete="off"
        .value=${this.typed ?? this.text}
        aria-invalid=${this.problem ? 'true' : 'false'}
        aria-describedby="under"
        @focus=${(e: FocusEvent) => (e.target as HTMLInputElement).select()}
        @change=${this.take}
        @keydown=${this.stepByKey}
      />
      <div id="under" class="under ${this.problem ? 'wrong' : ''}" ?hidden=${!this.problem && !this.hint}>
        ${this.problem || this.hint}
      </div>
    `;
  }

  private take(event: Event): void {
    const input = event.target as HTMLInputElement;
    const read = readDecimal(input.value);
    if ('problem' in read) {
      this.typed = input.value;
      this.problem = read.problem;
      return;
    }
    const { value } = read;
    if (value < this.min || value > this.max) {
      this.typed = input.value;
      this.problem = this.sayRange();
    } else {
      this.typed = null;
      this.problem = '';
      input.value = String(value);
      if (String(value) !== this.text) this.dispatchEvent(new ValueEvent(value));
    }
  }

  private sayRange(): string {
    if (!Number.isFinite(this.max)) return `It must be at least ${this.min}.`;
    if (!Number.isFinite(this.min)) return `It must be at most ${this.max}.`;
    return `It must lie between ${this.min} and ${this.max}.`;
  }

  private stepByKey(event: KeyboardEvent): void {
    if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return;
    event.preventDefault();
    const next = this.value + (event.key === 'ArrowUp' ? this.step : -this.step);
    if (next < this.min || next > this.max) return;
    this.typed = null;
    this.problem = '';
    this.dispatchEvent(new ValueEvent(next, true));
  }
}
