import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { STAGES, type Stage } from '../session/ViewPrefs.ts';
import { PrefsEvent } from './events.ts';
import { sharedStyles } from './sharedStyles.ts';
import { low, narrow, phone, upright } from './widths.ts';

const NAMES: Readonly<Record<Stage, string>> = {
  scan: 'Scan',
  parting: 'Parting',
  coats: 'Coats',
  mix: 'Mix',
  sheet: 'Sheet',
};

/** The five stages, numbered in the margin; each with what it has come to. */
@customElement('scute-rail')
export class StageRail extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: flex;
        flex-direction: column;
      }
      h1 {
        font-size: var(--size-figure);
        line-height: 1;
        letter-spacing: 0.01em;
        padding: 22px 18px 24px 20px;
      }
      ol {
        display: grid;
        gap: 6px;
      }
      button {
        display: grid;
        grid-template-columns: 28px minmax(0, 1fr);
        column-gap: 10px;
        align-items: start;
        width: 100%;
        text-align: left;
        border: none;
        border-radius: 0;
        background: none;
        padding: 10px 8px 10px 20px;
        min-height: 60px;
      }
      button:hover:not(:disabled) {
        background: var(--paper-sunk);
      }
      button[aria-current='step'] {
        box-shadow: inset 6px 0 0 var(--accent);
        background: none;
      }
      .number {
        width: 28px;
        height: 28px;
        border: 1.5px solid var(--line);
        border-radius: 50%;
        display: grid;
        place-items: center;
        font-size: var(--size-small);
        line-height: 1;
      }
      [aria-current='step'] .number {
        background: var(--accent);
        border-color: var(--accent);
        color: var(--on-accent);
        font-weight: bold;
      }
      .name {
        font-size: 1.125rem;
        line-height: 28px;
      }
      [aria-current='step'] .name {
        font-weight: bold;
      }
      .state {
        grid-column: 2;
        color: var(--ink-soft);
        font-size: var(--size-small);
        white-space: nowrap;
        text-overflow: ellipsis;
        overflow: hidden;
      }
      @media (min-width: 1200px) and (max-height: 719px) {
        h1 {
          padding: var(--gap-3) 18px var(--gap-2) 20px;
        }
        ol {
          gap: 0;
        }
        button {
          min-height: 52px;
          padding-top: 5px;
          padding-bottom: 5px;
        }
      }
      @media ${narrow} {
        :host {
          flex-direction: row;
          align-items: stretch;
        }
        h1 {
          font-size: var(--size-heading);
          padding: 0 18px;
          align-self: center;
        }
        ol {
          flex: 1;
          grid-template-columns: repeat(5, minmax(0, 1fr));
          gap: 0;
        }
        button {
          height: 100%;
          border-left: 1px solid var(--line-soft);
          padding: 8px 8px 8px 10px;
        }
        button[aria-current='step'] {
          box-shadow: inset 0 -5px 0 var(--accent);
        }
        :focus-visible {
          outline-offset: -3px;
        }
      }
      @media ${upright} {
        h1 {
          position: absolute;
          width: 1px;
          height: 1px;
          padding: 0;
          overflow: hidden;
          clip-path: inset(50%);
          white-space: nowrap;
        }
        li:first-child button {
          border-left: none;
        }
      }
      @media ${low} {
        h1 {
          padding: 0 var(--gap-3);
        }
        button {
          min-height: var(--target);
          padding: 4px 6px 6px;
          column-gap: 6px;
          align-items: center;
        }
        .state {
          display: none;
        }
      }
      @media ${phone} {
        h1 {
          position: absolute;
          width: 1px;
          height: 1px;
          padding: 0;
          overflow: hidden;
          clip-path: inset(50%);
          white-space: nowrap;
        }
        li:first-child button {
          border-left: none;
        }
        button {
          grid-template-columns: 1fr;
          justify-items: center;
          text-align: center;
          padding: 6px 2px 8px;
          min-height: 58px;
        }
        .number {
          width: 24px;
          height: 24px;
        }
        .name {
          font-size: var(--size-small);
          line-height: 1.3;
        }
        .state {
          display: none;
        }
      }
    `,
  ];

  @property() stage: Stage = 'scan';
  @property({ attribute: false }) states: Readonly<Record<Stage, string>> = {
    scan: '',
    parting: '',
    coats: '',
    mix: '',
    sheet: '',
  };

  override render() {
    return html`
      <h1>Scute</h1>
      <ol>
        ${STAGES.map(
          (stage, i) => html`<li>
            <button
              aria-current=${stage === this.stage ? 'step' : 'false'}
              @click=${() => this.dispatchEvent(new PrefsEvent({ stage }))}
            >
              <span class="number">${i + 1}</span>
              <span class="name">${NAMES[stage]}</span>
              <span class="state">${this.states[stage]}</span>
            </button>
          </li>`,
        )}
      </ol>
    `;
  }
}
