import { css, html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { CommandEvent } from '../events.ts';
import { redoIcon, undoIcon } from '../icons.ts';
import { sharedStyles } from '../sharedStyles.ts';

/** The figure's caption, as a drawing has it, with undo and redo at its end. */
@customElement('scute-figure-head')
export class FigureHead extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 12px;
        min-height: 48px;
        padding: 4px 12px 0 22px;
      }
      p {
        color: var(--ink-soft);
      }
      b {
        color: var(--ink);
        font-weight: normal;
        margin-right: 0.6em;
      }
      .tools {
        display: flex;
        gap: 2px;
        flex: none;
      }
      @container (max-height: 400px) {
        /* Lies over the picture, whose upper edge is empty paper. */
        :host {
          position: absolute;
          left: 0;
          right: 0;
          top: 0;
          z-index: 1;
          pointer-events: none;
        }
        .tools {
          pointer-events: auto;
        }
      }
      @container (max-width: 639px) {
        :host {
          min-height: 44px;
          padding: 0 8px 0 14px;
        }
        p {
          font-size: var(--size-small);
          line-height: 1.2;
        }
      }
    `,
  ];

  /** "Fig. 2" */
  @property() number = '';
  @property() text = '';
  @property({ type: Boolean }) canUndo = false;
  @property({ type: Boolean }) canRedo = false;

  override render() {
    return html`
      <p><b>${this.number}</b> ${this.text}</p>
      <div class="tools">
        <button
          class="quiet"
          title="Undo (Ctrl Z)"
          aria-label="Undo"
          ?disabled=${!this.canUndo}
          @click=${() => this.dispatchEvent(new CommandEvent({ do: 'undo' }))}
        >
          ${undoIcon}
        </button>
        <button
          class="quiet"
          title="Redo (Ctrl Shift Z)"
          aria-label="Redo"
          ?disabled=${!this.canRedo}
          @click=${() => this.dispatchEvent(new CommandEvent({ do: 'redo' }))}
        >
          ${redoIcon}
        </button>
      </div>
    `;
  }
}
