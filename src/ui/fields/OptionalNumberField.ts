import { customElement, property } from 'lit/decorators.js';
import { readDecimal } from './readDecimal.ts';
import { type Reading, TypedField } from './TypedField.ts';

/** A plain number that may be left open, such as a price that is not known. Fires ValueEvent with it, or with null when emptied. */
@customElement('scute-optional-number')
export class OptionalNumberField extends TypedField<number | null> {
  @property({ attribute: false }) value: number | null = null;
  @property() unit = '';
  @property() override placeholder = 'not known';
  @property({ type: Number }) min = 0;
  @property({ type: Number }) max = Number.POSITIVE_INFINITY;
  @property({ type: Number }) digits = 4;

  protected readonly keyboard = 'decimal';

  protected get text(): string {
    return this.value === null ? '' : String(Number(this.value.toFixed(this.digits)));
  }

  protected override get labelText(): string {
    return this.unit ? `${this.label}, ${this.unit}` : this.label;
  }

  protected read(typed: string): Reading<number | null> {
    if (typed.trim() === '') return this.value === null ? 'as-shown' : { value: null };
    const read = readDecimal(typed);
    if ('problem' in read) return read;
    if (read.value < this.min) return { problem: `It must be at least ${this.min}.` };
    if (read.value > this.max) return { problem: `It must be at most ${this.max}.` };
    return String(read.value) === this.text ? 'as-shown' : read;
  }
}
