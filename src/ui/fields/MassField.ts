import { customElement, property } from 'lit/decorators.js';
import { formatMass, parseMass } from '../../core/units.ts';
import { MeasureField } from './MeasureField.ts';

/** A mass, g ("1 lb 4 oz", "620 g", "9,5"); a bare number is in grams, or in ounces where US units are shown. */
@customElement('scute-mass-field')
export class MassField extends MeasureField {
  @property({ attribute: false }) g: number | null = 0;
  @property({ type: Number }) override max = 1e8;

  protected get amount(): number | null {
    return this.g;
  }

  protected write(massG: number): string {
    return formatMass(massG, this.system);
  }

  protected parse(typed: string): { readonly value: number } | { readonly problem: string } {
    const parsed = parseMass(typed, this.system === 'us' ? 'oz' : 'g');
    return 'problem' in parsed ? parsed : { value: parsed.g };
  }
}
