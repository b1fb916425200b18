import { customElement, property } from 'lit/decorators.js';
import { arrowOf } from './arrowOf.ts';
import { readDecimal } from './readDecimal.ts';
import { type Reading, TypedField } from './TypedField.ts';

/** A plain number with its unit beside it. A comma is taken as the decimal mark. Fires ValueEvent with the number. */
@customElement('scute-number-field')
export class NumberField extends TypedField<number> {
  @property({ type: Number }) value = 0;
  @property() unit = '';
  @property({ type: Number }) min = Number.NEGATIVE_INFINITY;
  @property({ type: Number }) max = Number.POSITIVE_INFINITY;
  @property({ type: Number }) step = 1;
  @property({ type: Number }) digits = 3;

  protected readonly keyboard = 'decimal';

  protected get text(): string {
    return String(Number(this.value.toFixed(this.digits)));
  }

  protected override get labelText(): string {
    return this.unit ? `${this.label}, ${this.unit}` : this.label;
  }

  protected read(typed: string): Reading<number> {
    const read = readDecimal(typed);
    if ('problem' in read) return read;
    if (!this.isWithin(read.value)) return { problem: this.sayRange() };
    return String(read.value) === this.text ? 'as-shown' : read;
  }

  protected override onKey(event: KeyboardEvent): void {
    const arrow = arrowOf(event);
    if (arrow === 0) return;
    event.preventDefault();
    const next = this.value + arrow * this.step;
    if (this.isWithin(next)) this.stepTo(next);
  }

  private isWithin(value: number): boolean {
    return value >= this.min && value <= this.max;
  }

  private sayRange(): string {
    if (!Number.isFinite(this.max)) return `It must be at least ${this.min}.`;
    if (!Number.isFinite(this.min)) return `It must be at most ${this.max}.`;
    return `It must lie between ${this.min} and ${this.max}.`;
  }
}
