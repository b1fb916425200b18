import { css, html, LitElement } from 'lit';
import { customElement } from 'lit/decorators.js';
import { CommandEvent } from '../events.ts';
import { fitIcon, minusIcon, plusIcon, saveIcon } from '../icons.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { FigureLookEvent } from './FigureLookEvent.ts';

/** The column of buttons in the picture's corner: nearer, farther, fit, save. */
@customElement('scute-figure-tools')
export class FigureTools extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        position: absolute;
        right: 10px;
        top: 8px;
        display: grid;
        gap: 4px;
      }
      button {
        padding: 0;
      }
      @container (max-height: 400px) or (max-width: 599px) {
        :host {
          grid-template-columns: repeat(2, auto);
          top: 44px;
        }
      }
    `,
  ];

  override render() {
    return html`
      <button aria-label="Nearer" title="Nearer (+)" @click=${() => this.dispatchEvent(new FigureLookEvent('nearer'))}>
        ${plusIcon}
      </button>
      <button
        aria-label="Farther"
        title="Farther (\u2212)"
        @click=${() => this.dispatchEvent(new FigureLookEvent('farther'))}
      >
        ${minusIcon}
      </button>
      <button
        aria-label="Fit the mould"
        title="Fit (F)"
        @click=${() => this.dispatchEvent(new FigureLookEvent('fit'))}
      >
        ${fitIcon}
      </button>
      <button
        aria-label="Save the picture"
        title="Save the picture"
        @click=${() => this.dispatchEvent(new CommandEvent({ do: 'save-picture' }))}
      >
        ${saveIcon}
      </button>
    `;
  }
}
