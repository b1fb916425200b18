import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import { isTerm, TERM_TEXTS } from './termTexts.ts';

/** Between the word and its leaf, and between the leaf and the window's edge, px. */
const GAP_PX = 6;

/**
 * A word of the trade with a dotted line under it: a touch or Enter opens its meaning beside it, a second one, Escape or a touch
 * elsewhere puts it away. The slot holds the word as it stands in its sentence; empty, the word itself is written.
 */
@customElement('scute-term')
export class TermWord extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: inline;
      }
      button {
        position: relative;
        display: inline;
        min-width: 0;
        min-height: 0;
        padding: 0;
        border: none;
        background: none;
        color: inherit;
        font: inherit;
        text-align: inherit;
        text-decoration: underline dotted var(--accent);
        text-decoration-thickness: 2px;
        text-underline-offset: 3px;
      }
      button:hover:not(:disabled),
      button[aria-expanded='true'] {
        background: none;
        color: var(--accent);
      }
      /* A thumb is larger than a line of text. */
      button::after {
        content: '';
        position: absolute;
        inset: -11px -4px;
      }
      #meaning {
        position: fixed;
        inset: auto;
        margin: 0;
        width: max-content;
        max-width: min(320px, 100vw - 16px);
        padding: var(--gap-3) var(--gap-4);
        border: 1px solid var(--line);
        border-left: 6px solid var(--accent);
        background: var(--paper-raised);
        color: var(--ink);
        font-family: var(--face);
        font-size: var(--size-body);
        font-weight: normal;
        line-height: 1.35;
        text-align: left;
        white-space: normal;
      }
      #meaning b {
        display: block;
      }
    `,
  ];

  /** Under which its meaning is kept. */
  @property() word = '';
  @state() private isOpen = false;
  @query('button') private button!: HTMLElement;
  @query('#meaning') private meaning!: HTMLElement;

  override render() {
    const { word } = this;
    if (!isTerm(word)) return html`<slot>${word}</slot>`;
    return html`<button
        popovertarget="meaning"
        aria-expanded=${this.isOpen ? 'true' : 'false'}
        aria-describedby=${this.isOpen ? 'meaning' : nothing}
        @click=${(e: Event) => e.stopPropagation()}
        ><slot>${word}</slot></button
      ><span id="meaning" popover role="note" @beforetoggle=${this.onToggle} @toggle=${this.place}
        ><b>${word.charAt(0).toUpperCase() + word.slice(1)}</b>${TERM_TEXTS[word]}</span
      >`;
  }

  private readonly onToggle = (event: Event) => {
    this.isOpen = (event as ToggleEvent).newState === 'open';
    if (this.isOpen) window.addEventListener('scroll', this.onScroll, { capture: true, once: true });
  };

  /** What it speaks of has moved from under it. */
  private readonly onScroll = () => {
    if (this.meaning?.matches(':popover-open')) this.meaning.hidePopover();
  };

  /** Under its word where there is room, else above it, and always whole within the window. */
  private readonly place = () => {
    if (!this.isOpen) return;
    const word = this.button.getBoundingClientRect();
    const { offsetWidth: width, offsetHeight: height } = this.meaning;
    const { clientWidth, clientHeight } = document.documentElement;
    const left = Math.max(GAP_PX, Math.min(word.left, clientWidth - width - GAP_PX));
    const below = word.bottom + GAP_PX;
    const top =
      below + height + GAP_PX <= clientHeight ? below : Math.max(GAP_PX, word.top - height - GAP_PX);
    this.meaning.style.left = `${left}px`;
    this.meaning.style.top = `${top}px`;
  };
}
