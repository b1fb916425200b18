import { html, LitElement, nothing } from 'lit';
import { property, state } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import { fieldStyles } from './fieldStyles.ts';
import { ValueEvent } from './ValueEvent.ts';

/** What was typed: a value, why there is none, or what the field shows already. */
export type Reading<T> = { readonly value: T } | { readonly problem: string } | 'as-shown';

/**
 * What all fields have in common into which a figure is typed: the label, the input, and under it the hint, or the problem with
 * what was typed, which then stays in the input. Fires ValueEvent with what was read.
 */
export abstract class TypedField<T> extends LitElement {
  static override styles = [sharedStyles, fieldStyles];

  @property() label = '';
  @property() hint = '';
  @property() placeholder = '';
  /** The label is read out but not shown, as in a table. */
  @property({ type: Boolean }) bare = false;

  /** What was typed and cannot be taken; null: the value is shown. */
  @state() private typed: string | null = null;
  @state() private problem = '';

  /** The value as the field shows it. */
  protected abstract get text(): string;
  /** Which keyboard a touch screen offers. */
  protected abstract readonly keyboard: 'text' | 'decimal';
  /** Called with what was typed, when it is not what is shown. */
  protected abstract read(typed: string): Reading<T>;

  /** The label as it is written, with a unit where the field has one. */
  protected get labelText(): string {
    return this.label;
  }

  override render() {
    return html`
      <label for="field" class=${this.bare ? 'visually-hidden' : nothing}>${this.labelText}</label>
      <input
        id="field"
        inputmode=${this.keyboard}
        autocomplete="off"
        spellcheck="false"
        placeholder=${this.placeholder || nothing}
        .value=${this.typed ?? this.text}
        aria-invalid=${this.problem ? 'true' : 'false'}
        aria-describedby="under"
        @focus=${(e: FocusEvent) => (e.target as HTMLInputElement).select()}
        @change=${this.take}
        @keydown=${this.onKey}
      />
      <div id="under" class="under ${this.problem ? 'wrong' : ''}" ?hidden=${!this.problem && !this.hint}>
        ${this.problem || this.hint}
      </div>
    `;
  }

  private take(event: Event): void {
    const { value: typed } = event.target as HTMLInputElement;
    const reading = typed === this.text ? 'as-shown' : this.read(typed);
    if (reading === 'as-shown') {
      this.showValue();
    } else if ('problem' in reading) {
      this.typed = typed;
      this.problem = reading.problem;
    } else {
      this.showValue();
      this.dispatchEvent(new ValueEvent<T>(reading.value));
    }
  }

  /** For fields that step by the arrow keys. */
  protected onKey(_event: KeyboardEvent): void {}

  /** The value after an arrow key; more of the same gesture may follow. */
  protected stepTo(value: T): void {
    this.showValue();
    this.dispatchEvent(new ValueEvent<T>(value, true));
  }

  private showValue(): void {
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
