import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { sharedStyles } from '../sharedStyles.ts';
import { benchStyles } from './benchStyles.ts';
import type { StepTold } from './tellStep.ts';

/** A step that fills no bucket: what to do, its figures large, what comes after it and when. */
@customElement('scute-step-card')
export class StepCard extends LitElement {
  static override styles = [
    sharedStyles,
    benchStyles,
    css`
      ol.todo {
        list-style: none;
        margin: 4px 0 16px;
        padding: 0;
      }
      ol.todo li {
        padding: 8px 0;
        border-bottom: 1px solid var(--line-soft);
      }
      dl {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(100%, 220px), 1fr));
        gap: 12px 28px;
        margin: 0 0 16px;
      }
      dt {
        font-size: var(--bench-note);
        color: var(--ink-soft);
      }
      dd {
        margin: 0;
        font-size: var(--bench-title);
        font-weight: bold;
        line-height: 1.1;
        overflow-wrap: anywhere;
      }
      .next {
        font-size: var(--bench-note);
        border-top: 1px solid var(--line);
        padding-top: 10px;
      }
    `,
  ];

  @property({ attribute: false }) told: StepTold = { todo: [], figures: [] };
  /** What waits for it: what and, where the clock is known, when. */
  @property({ attribute: false }) next: readonly { readonly what: string; readonly when: string }[] = [];

  override render() {
    const { todo, figures } = this.told;
    return html`
      ${
        figures.length > 0
          ? html`<dl>
            ${figures.map(({ name, text }) => html`<div><dt>${name}</dt><dd>${text}</dd></div>`)}
          </dl>`
          : nothing
      }
      ${todo.length > 0 ? html`<ol class="todo" aria-label="What to do">${todo.map((line) => html`<li>${line}</li>`)}</ol>` : nothing}
      ${
        this.next.length > 0
          ? html`<div class="next">
            <p class="soft">Waits for it:</p>
            <ul aria-label="What waits for it">
              ${this.next.map(({ what, when }) => html`<li>${what}${when ? html`, <b>${when}</b>` : nothing}</li>`)}
            </ul>
          </div>`
          : nothing
      }
    `;
  }
}
