import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { PrefsEvent } from '../events.ts';
import { foldIcon } from '../icons.ts';
import type { Term } from '../parts/termTexts.ts';
import { sharedStyles } from '../sharedStyles.ts';
import '../parts/TermLine.ts';

/** A part of a panel under a heading that folds it away; what it has come to stands beside the heading. */
@customElement('scute-section')
export class FoldSection extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
        border-top: 1px solid var(--line);
        margin-top: 20px;
      }
      summary {
        display: flex;
        align-items: baseline;
        gap: 10px;
        min-height: var(--target);
        padding: 10px 0 6px;
        cursor: pointer;
        list-style: none;
      }
      summary::-webkit-details-marker {
        display: none;
      }
      summary:hover h3 {
        text-decoration: underline;
        text-underline-offset: 4px;
      }
      h3 {
        margin: 0;
        flex: none;
      }
      .note {
        flex: 1;
        text-align: right;
        border: none;
        padding: 0;
        margin: 0;
        font-size: var(--size-small);
        color: var(--ink-soft);
        min-width: 0;
      }
      .turn {
        flex: none;
        align-self: center;
        color: var(--ink-soft);
      }
      details[open] .turn {
        transform: rotate(180deg);
      }
      .turn svg {
        display: block;
        width: 16px;
        height: 16px;
      }
    `,
  ];

  /** Under which this part is remembered as folded. */
  @property() key = '';
  @property() label = '';
  @property() note = '';
  /** Words of the trade that this part uses, explained at its head. */
  @property({ attribute: false }) terms: readonly Term[] = [];
  /** Rarely wanted: folded until it is opened. */
  @property({ type: Boolean }) rare = false;
  /** Keys of the parts that were folded by hand, and of the rare ones that were opened. */
  @property({ attribute: false }) folded: readonly string[] = [];

  override render() {
    const isTurned = this.folded.includes(this.key);
    return html`<details ?open=${isTurned === this.rare}>
      <summary @click=${this.turn}>
        <h3>${this.label}</h3>
        <span class="note">${this.note || nothing}</span>
        <span class="turn">${foldIcon}</span>
      </summary>
      ${this.terms.length > 0 ? html`<scute-terms .words=${this.terms}></scute-terms>` : nothing}
      <slot></slot>
    </details>`;
  }

  /** The preference decides, so that the part is found as it was left after a look at another stage. */
  private turn(event: Event): void {
    event.preventDefault();
    const isTurned = this.folded.includes(this.key);
    this.dispatchEvent(
      new PrefsEvent({
        folded: isTurned ? this.folded.filter((key) => key !== this.key) : [...this.folded, this.key],
      }),
    );
  }
}
