import { customElement, property } from 'lit/decorators.js';
import { formatLength, parseLength } from '../../core/units.ts';
import { arrowOf } from './arrowOf.ts';
import { MeasureField } from './MeasureField.ts';

/** What an arrow key adds or takes, mm: half a millimetre, or a thirty-second of an inch. */
const STEP_MM = { metric: 0.5, us: 25.4 / 32 } as const;

/** A length, mm ("3/8 in", "9.5"); a bare number is in the system shown. */
@customElement('scute-length-field')
export class LengthField extends MeasureField {
  @property({ attribute: false }) mm: number | null = 0;
  @property({ type: Number }) override max = 100_000;

  protected get amount(): number | null {
    return this.mm;
  }

  protected write(mm: number): string {
    return formatLength(mm, this.system);
  }

  protected parse(typed: string): { readonly value: number } | { readonly problem: string } {
    const parsed = parseLength(typed, this.system === 'us' ? 'in' : 'mm', { allowNegative: this.min < 0 });
    return 'problem' in parsed ? parsed : { value: parsed.mm };
  }

  protected override onKey(event: KeyboardEvent): void {
    const arrow = arrowOf(event);
    if (arrow === 0 || this.mm === null) return;
    event.preventDefault();
    const stepMm = STEP_MM[this.system];
    const nextMm = Math.round(this.mm / stepMm + arrow) * stepMm;
    if (this.whyOut(nextMm) === '') this.stepTo(nextMm);
  }
}
