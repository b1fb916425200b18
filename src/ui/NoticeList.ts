import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Notice } from '../session/SessionStore.ts';
import { CommandEvent } from './events.ts';
import { removeIcon } from './icons.ts';
import { sharedStyles } from './sharedStyles.ts';

/** Slips of paper laid on the sheet: what went wrong, until it is put away. */
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
        gap: 8px;
        background: var(--paper-raised);
        border: 1px solid var(--line);
        border-left: 6px solid var(--line);
        padding: 6px 6px 6px 14px;
        margin-top: 8px;
      }
      li.problem-slip {
        border-left-color: var(--accent);
      }
      p {
        flex: 1;
        padding: 9px 0;
        overflow-wrap: anywhere;
      }
    `,
  ];

  @property({ attribute: false }) notices: readonly Notice[] = [];

  override render() {
    return html`
      <div role="alert"><ul>
        ${this.notices.map(
          (notice) => html`<li class=${notice.tone === 'problem' ? 'problem-slip' : 'note-slip'}>
            <p>${notice.text}</p>
            <button
              class="quiet"
              aria-label="Put this notice away"
              @click=${() => this.dispatchEvent(new CommandEvent({ do: 'dismiss', topic: notice.topic }))}
            >
              ${removeIcon}
            </button>
          </li>`,
        )}
      </ul></div>
    `;
  }
}
