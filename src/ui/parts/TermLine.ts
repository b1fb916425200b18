import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import type { Term } from './termTexts.ts';
import './TermWord.ts';

/** The words of the trade that a part of a panel uses, each explained where it stands. */
@customElement('scute-terms')
export class TermLine extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
      }
      p {
        font-size: var(--size-small);
        color: var(--ink-soft);
        /* Far enough apart for a thumb. */
        line-height: 1.9;
        margin-bottom: var(--gap-1);
      }
      scute-term {
        margin-right: var(--gap-3);
        white-space: nowrap;
      }
    `,
  ];

  @property({ attribute: false }) words: readonly Term[] = [];

  override render() {
    if (this.words.length === 0) return nothing;
    return html`<p>
      <span class="visually-hidden">Words explained:</span>
      ${this.words.map((word) => html`<scute-term word=${word}></scute-term> `)}
    </p>`;
  }
}
