import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { formatMass, type MassUnitName, parseMass, type UnitSystem } from '../../core/units.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { fieldStyles } from './fieldStyles.ts';
import { ValueEvent } from './ValueEvent.ts';

/**
 * A mass typed freely in either system ("1 lb 4 oz", "620 g", "9,5"); a bare number is in grams, or in ounces where US
 * units are shown. Fires ValueEvent with grams, or with null when an `optional` field is emptied; says why when what was
 * typed cannot be read.
 */
@customElement('scute-mass-field')
export class MassField extends LitElement {
  static override styles = [sharedStyles, fieldStyles];

  @property() label = '';
  @property({ attribute: false }) g: number | null = 0;
  @property() system: UnitSystem = 'metric';
  @property() hint = '';
  /** Smallest and largest value taken, g. */
  @property({ type: Number }) min = 0;
  @property({ type: Number }) max = 1e8;
  /** Left empty is an answer too. */
  @property({ type: Boolean }) optional = false;
  /** Nothing at all is a mass too. */
  @property({ type: Boolean }) orNone = false;
  @property() placeholder = '';
  /** The label is read out but not shown, as in a table. */
  @property({ type: Boolean }) bare = false;

  @state() private typed: string | null = null;
  @state() private problem = '';

  private get text(): string {
    return this.g === null ? '' : formatMass(this.g, this.system);
  }

  override render() {
    return html`
      <label for="field" class=${this.bare ? 'visually-hidden' : nothing}>${this.label}</label>
      <input
        id="field"
        inputmode="text"
        autocomplete="off"
        spellcheck="false"
        placeholder=${this.placeholder || nothing}
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
    const text = (event.target as HTMLInputElement).value;
    if (text === this.text) {
      this.clear();
      return;
    }
    if (text.trim() === '' && this.optional) {
      this.clear();
      this.dispatchEvent(new ValueEvent<number | null>(null));
      return;
    }
    const bareUnit: MassUnitName = this.system === 'us' ? 'oz' : 'g';
    const parsed = parseMass(text, bareUnit);
    const problem = 'problem' in parsed ? parsed.problem : this.outOfRange(parsed.g);
    if (problem !== '' || 'problem' in parsed) {
      this.typed = text;
      this.problem = problem;
      return;
    }
    this.clear();
    this.dispatchEvent(new ValueEvent<number | null>(parsed.g));
  }

  /** Why a mass is not taken, or ''. */
  private outOfRange(g: number): string {
    if (g === 0 && !this.orNone) return 'Too small; it must be above 0.';
    if (g < this.min) return `Too small; it must be at least ${formatMass(this.min, this.system)}.`;
    if (g > this.max) return `Too large; it must be at most ${formatMass(this.max, this.system)}.`;
    return '';
  }

  private clear(): void {
    this.typed = null;
    this.problem = '';
    // The input may still show what was typed when the value itself did not change.
    this.requestUpdate();
    void this.updateComplete.then(() => {
      const input = this.renderRoot.querySelector('input');
      if (input) input.value = this.text;
    });
  }
}
