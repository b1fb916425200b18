import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Notice } from '../session/SessionStore.ts';
import { CommandEvent } from './events.ts';
import { removeIcon } from './icons.ts';
import { sharedStyles } from './sharedStyles.ts';

/** Slips of paper at the head of the panel: what went wrong and what to do, until it is put away. What is wrong is read out at once, the rest in its turn. */
@customElement('scute-notices')
export class NoticeList extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
      }
      li {
        display: flex;
        align-items: flex-start;
        gap: var(--gap-2);
        background: var(--paper-raised);
        border-bottom: 1px solid var(--line);
        border-left: 6px solid var(--line-control);
        padding: var(--gap-1) var(--gap-2) var(--gap-1) var(--gap-4);
      }
      li.problem-slip {
        border-left-color: var(--accent);
      }
      .words {
        flex: 1;
        min-width: 0;
      }
      .choices {
        padding-bottom: var(--gap-2);
      }
      p {
        padding: 10px 0;
        line-height: 1.3;
        overflow-wrap: anywhere;
      }
      button {
        flex: none;
      }
    `,
  ];

  @property({ attribute: false }) notices: readonly Notice[] = [];

  override render() {
    const problems = this.notices.filter(({ tone }) => tone === 'problem');
    const notes = this.notices.filter(({ tone }) => tone !== 'problem');
    return html`
      <div role="alert"><ul>${problems.map((notice) => this.renderSlip(notice, 'problem-slip'))}</ul></div>
      <div role="status"><ul>${notes.map((notice) => this.renderSlip(notice, 'note-slip'))}</ul></div>
    `;
  }

  private renderSlip({ text, topic, choices }: Notice, look: string) {
    return html`<li class=${look}>
      <div class="words">
        <p>${text}</p>
        ${
          choices.length > 0
            ? html`<div class="row choices">
              ${choices.map(
                (choice) => html`<button
                  @click=${() => this.dispatchEvent(new CommandEvent(choice.command))}
                >
                  ${choice.text}
                </button>`,
              )}
            </div>`
            : nothing
        }
      </div>
      <button
        class="quiet"
        aria-label="Put this notice away"
        title="Put away"
        @click=${() => this.dispatchEvent(new CommandEvent({ do: 'dismiss', topic }))}
      >
        ${removeIcon}
      </button>
    </li>`;
  }
}
