import { property } from 'lit/decorators.js';
import type { UnitSystem } from '../../core/units.ts';
import { type Reading, TypedField } from './TypedField.ts';

/** A length or a mass typed freely in either system of units. Fires ValueEvent with it, or with null when an `optional` field is emptied. */
export abstract class MeasureField extends TypedField<number | null> {
  @property() system: UnitSystem = 'metric';
  /** Smallest value taken, in the field's own unit. */
  @property({ type: Number }) min = 0;
  /** Nothing at all is an amount too. */
  @property({ type: Boolean }) orNone = false;
  /** Left empty is an answer too. */
  @property({ type: Boolean }) optional = false;

  protected readonly keyboard = 'text';

  /** Largest value taken, in the field's own unit. */
  abstract max: number;
  protected abstract get amount(): number | null;
  protected abstract write(amount: number): string;
  protected abstract parse(typed: string): { readonly value: number } | { readonly problem: string };

  protected get text(): string {
    return this.amount === null ? '' : this.write(this.amount);
  }

  protected read(typed: string): Reading<number | null> {
    if (typed.trim() === '' && this.optional) return { value: null };
    const parsed = this.parse(typed);
    if ('problem' in parsed) return parsed;
    const problem = this.whyOut(parsed.value);
    return problem === '' ? parsed : { problem };
  }

  /** Why an amount is not taken, or ''. */
  protected whyOut(amount: number): string {
    const isAboveNone = this.min === 0 && !this.orNone;
    if (amount < this.min || (isAboveNone && amount === 0)) {
      return `Too small; it must be ${isAboveNone ? 'above 0' : `at least ${this.write(this.min)}`}.`;
    }
    return amount > this.max ? `Too large; it must be at most ${this.write(this.max)}.` : '';
  }
}
