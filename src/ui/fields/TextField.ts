import { html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import { fieldStyles } from './fieldStyles.ts';
import { ValueEvent } from './ValueEvent.ts';

/** A line of text. Fires ValueEvent with the trimmed text; an empty one is not taken unless `optional`. */
@customElement('scute-text-field')
export class TextField extends LitElement {
  static override styles = [sharedStyles, fieldStyles];

  @property() label = '';
  @property() value = '';
  @property({ type: Boolean }) bare = false;
  @property({ type: Boolean }) optional = false;

  override render() {
    return html`
      <label for="field" class=${this.bare ? 'visually-hidden' : nothing}>${this.label}</label>
      <input id="field" autocomplete="off" maxlength="80" .value=${this.value} @change=${this.take} />
    `;
  }

  private take(event: Event): void {
    const input = event.target as HTMLInputElement;
    const text = input.value.trim();
    if (text === '' && !this.optional) {
      input.value = this.value;
      return;
    }
    input.value = text;
    if (text !== this.value) this.dispatchEvent(new ValueEvent(text));
  }
}
