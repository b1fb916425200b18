import { html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { formatLength, parseLength, type UnitSystem } from '../../core/units.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { fieldStyles } from './fieldStyles.ts';
import { ValueEvent } from './ValueEvent.ts';

/**
 * A length typed freely in either system ("3/8 in", "9.5"); a bare number is in the system shown. Fires ValueEvent
 * with millimetres when what was typed can be read, or with null when an `optional` field is emptied; says why when it
 * cannot be read.
 */
@customElement('scute-length-field')
export class LengthField extends LitElement {
  static override styles = [sharedStyles, fieldStyles];

  @property() label = '';
  @property({ attribute: false }) mm: number | null = 0;
  @property() system: UnitSystem = 'metric';
  @property() hint = '';
  /** Smallest value taken, mm. */
  @property({ type: Number }) min = 0;
  /** Nothing at all is a length too. */
  @property({ type: Boolean }) orNone = false;
  /** Largest value taken, mm. */
  @property({ type: Number }) max = 100_000;
  /** Left empty is an answer too. */
  @property({ type: Boolean }) optional = false;
  @property() placeholder = '';
  /** The label is read out but not shown, as in a table. */
  @property({ type: Boolean }) bare = false;

  @state() private typed: string | null = null;
  @state() private problem = '';

  private get text(): string {
    return this.mm === null ? '' : formatLength(this.mm, this.system);
  }

  override render() {
    const shown = this.typed ?? this.text;
    return html`
      <label for="field" class=${this.bare ? 'visually-hidden' : nothing}>${this.label}</label>
      <input
        id="field"
        inputmode="text"
        autocomplete="off"
        spellcheck="false"
        placeholder=${this.placeholder || nothing}
        .value=${shown}
        aria-invalid=${this.problem ? 'true' : 'false'}
        aria-describedby="under"
        @focus=${(e: FocusEvent) => (e.target as HTMLInputElement).select()}
        @change=${this.take}
        @keydown=${this.step}
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
    const parsed = parseLength(text, this.system === 'us' ? 'in' : 'mm', { allowNegative: this.min < 0 });
    if ('problem' in parsed) {
      this.typed = text;
      this.problem = parsed.problem;
    } else if (parsed.mm < this.min || (this.isAboveNone && parsed.mm === 0)) {
      this.typed = text;
      this.problem = `Too small; it must be ${this.isAboveNone ? 'above 0' : `at least ${formatLength(this.min, this.system)}`}.`;
    } else if (parsed.mm > this.max) {
      this.typed = text;
      this.problem = `Too large; it must be at most ${formatLength(this.max, this.system)}.`;
    } else {
      this.clear();
      this.dispatchEvent(new ValueEvent(parsed.mm));
    }
  }

  private get isAboveNone(): boolean {
    return this.min === 0 && !this.orNone;
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

  /** Arrow keys step by half a millimetre or a thirty-second of an inch. */
  private step(event: KeyboardEvent): void {
    if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return;
    if (this.mm === null) return;
    event.preventDefault();
    const stepMm = this.system === 'us' ? 25.4 / 32 : 0.5;
    const next = Math.round(this.mm / stepMm + (event.key === 'ArrowUp' ? 1 : -1)) * stepMm;
    if (next < this.min || next > this.max || (this.isAboveNone && next <= 0)) return;
    this.clear();
    this.dispatchEvent(new ValueEvent(next, true));
  }
}
