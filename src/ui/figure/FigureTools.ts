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
        bottom: 0;
        /* One column; in a low picture the rest stands in a second one, to the left of it. */
        display: flex;
        flex-flow: column wrap-reverse;
        align-content: flex-start;
        gap: 4px;
        width: var(--target);
        pointer-events: none;
      }
      button {
        padding: 0;
        pointer-events: auto;
      }
      /* The caption lies over the picture there: beneath its buttons. */
      @container (max-height: 400px) {
        :host {
          top: 18px;
          right: 8px;
          gap: 2px;
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
