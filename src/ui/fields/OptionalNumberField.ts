import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import { fieldStyles } from './fieldStyles.ts';
import { readDecimal } from './readDecimal.ts';
import { ValueEvent } from './ValueEvent.ts';

/** A plain number that may be left open, such as a price that is not known. Fires ValueEvent with it, or with null when emptied. */
@customElement('scute-optional-number')
export class OptionalNumberField extends LitElement {
  static override styles = [sharedStyles, fieldStyles];

  @property() label = '';
  @property({ attribute: false }) value: number | null = null;
  @property() unit = '';
  @property() hint = '';
  @property() placeholder = 'not known';
  @property({ type: Number }) min = 0;
  @property({ type: Number }) max = Number.POSITIVE_INFINITY;
  @property({ type: Number }) digits = 4;
  @property({ type: Boolean }) bare = false;

  @state() private typed: string | null = null;
  @state() private problem = '';

  private get text(): string {
    return this.value === null ? '' : String(Number(this.value.toFixed(this.digits)));
  }

  override render() {
    const label = this.unit ? `${this.label}, ${this.unit}` : this.label;
    return html`
      <label for="field" class=${this.bare ? 'visually-hidden' : nothing}>${label}</label>
      <input
        id="field"
        inputmode="decimal"
        autocomplete="off"
        placeholder=${this.placeholder}
        .value=${this.typed ?? this.text}
        aria-invalid=${this.problem ? 'true' : 'false'}
        aria-describedby="under"
        @focus=${(e: FocusEvent) => (e.target as HTMLInputElement).select()}
        @change=${this.take}
      />
      <div id="under" class="under ${this.problem ? 'wrong' : ''}" ?hidden=${!this.problem && !this.hint}>
        ${this.problem || this.hint}
      </div>
    `;
  }

  private take(event: Event): void {
    const input = event.target as HTMLInputElement;
    if (input.value.trim() === '') {
      this.settle(input, null);
      return;
    }
    const read = readDecimal(input.value);
    if ('problem' in read) this.refuse(input, read.problem);
    else if (read.value < this.min) this.refuse(input, `It must be at least ${this.min}.`);
    else if (read.value > this.max) this.refuse(input, `It must be at most ${this.max}.`);
    else this.settle(input, read.value);
  }

  private refuse(input: HTMLInputElement, problem: string): void {
    this.typed = input.value;
    this.problem = problem;
  }

  private settle(input: HTMLInputElement, value: number | null): void {
    this.typed = null;
    this.problem = '';
    const shown = this.text;
    input.value = value === null ? '' : String(value);
    if (input.value !== shown) this.dispatchEvent(new ValueEvent<number | null>(value));
  }
}
