import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Stage } from '../../session/ViewPrefs.ts';
import { PrefsEvent } from '../events.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { nextHint } from './hintTexts.ts';

/** The hints of the first minute, one at a time at the head of the panel, where it covers nothing. Each is put away for good. */
@customElement('scute-hints')
export class HintCard extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
      }
      :host([empty]) {
        display: none;
      }
      section {
        border: 1px solid var(--line-control);
        border-left: 6px solid var(--accent);
        background: var(--accent-wash);
        padding: var(--gap-3) var(--gap-3) var(--gap-2) var(--gap-4);
      }
      h2 {
        font-size: var(--size-body);
        margin: 0 0 var(--gap-1);
      }
      footer {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: var(--gap-2);
        margin-top: var(--gap-2);
      }
    `,
  ];

  /** Keys of the hints that were put away. */
  @property({ attribute: false }) seen: readonly string[] = [];

  /** On the last stage the sheet lies in the figure's place. */
  @property() stage: Stage = 'parting';

  override render() {
    const next = nextHint(this.seen, this.stage);
    this.toggleAttribute('empty', next === null);
    if (!next) return nothing;
    const { hint, number, of } = next;
    return html`<section aria-label="Hint ${number} of ${of}">
      <h2>${hint.title}</h2>
      <p>${hint.text}</p>
      <footer>
        <span class="small soft">Hint ${number} of ${of}</span>
        <button @click=${() => this.dispatchEvent(new PrefsEvent({ hintsSeen: [...this.seen, hint.key] }))}>
          Got it
        </button>
      </footer>
    </section>`;
  }
}
