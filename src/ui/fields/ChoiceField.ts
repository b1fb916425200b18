import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import { fieldStyles } from './fieldStyles.ts';
import { ValueEvent } from './ValueEvent.ts';

export interface ChoiceOption {
  readonly value: string;
  readonly text: string;
}

/** One of a few, side by side: a group of radio buttons, so arrow keys move the choice. Fires ValueEvent with the value. */
@customElement('scute-choice')
export class ChoiceField extends LitElement {
  static override styles = [
    sharedStyles,
    fieldStyles,
    css`
      fieldset {
        border: none;
        margin: 0;
        padding: 0;
        min-width: 0;
      }
      .options {
        display: flex;
        flex-wrap: wrap;
        border: 1px solid var(--line-control);
        border-radius: 2px;
        background: var(--paper-raised);
        width: fit-content;
        max-width: 100%;
      }
      .option {
        position: relative;
        margin: 0;
        color: var(--ink);
        font-size: inherit;
        flex: none;
      }
      .option + .option {
        border-left: 1px solid var(--line-soft);
      }
      input {
        position: absolute;
        inset: 0;
        width: 100%;
        height: 100%;
        margin: 0;
        opacity: 0;
        cursor: pointer;
      }
      span {
        display: grid;
        place-items: center;
        min-height: 42px;
        min-width: var(--target);
        padding: 4px 12px;
      }
      input:checked + span {
        background: var(--ink);
        color: var(--paper);
      }
      input:not(:checked):hover + span {
        background: var(--paper-sunk);
      }
      input:focus-visible + span {
        outline: 3px solid var(--accent);
        outline-offset: 2px;
      }
    `,
  ];

  @property() label = '';
  @property() value = '';
  @property({ type: Boolean }) bare = false;
  @property({ attribute: false }) options: readonly ChoiceOption[] = [];

  override render() {
    return html`
      <fieldset>
        <legend class=${this.bare ? 'visually-hidden' : ''}>${this.label}</legend>
        <div class="options">
          ${this.options.map(
            (option) => html`
              <label class="option">
                <input
                  type="radio"
                  name="choice"
                  .value=${option.value}
                  .checked=${option.value === this.value}
                  @change=${() => this.dispatchEvent(new ValueEvent(option.value))}
                />
                <span>${option.text}</span>
              </label>
            `,
          )}
        </div>
      </fieldset>
    `;
  }
}
