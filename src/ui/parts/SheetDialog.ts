import { css, html, LitElement, type PropertyValues } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import { removeIcon } from '../icons.ts';
import { sharedStyles } from '../sharedStyles.ts';

/**
 * A leaf laid over the sheet, for what needs a choice before anything else. The native dialog underneath keeps the keyboard
 * inside, closes at Escape, and gives the focus back to where it came from. `open` opens and closes it; `close` is dispatched
 * once after either, and after Escape, the cross, or a touch beside it. Content goes into the slot, buttons into the slot "actions".
 * What stands first in focus is the first control of the content with `autofocus`, else the cross.
 */
@customElement('scute-dialog')
export class SheetDialog extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      dialog {
        width: min(var(--dialog-width, 640px), 100vw - 24px);
        max-width: none;
        max-height: calc(100dvh - 24px);
        padding: 0;
        border: var(--heavy) solid var(--line);
        border-radius: 0;
        background: var(--paper);
        color: var(--ink);
        overscroll-behavior: contain;
      }
      dialog[open] {
        display: grid;
        grid-template-rows: auto minmax(0, 1fr) auto;
      }
      dialog::backdrop {
        background: var(--veil);
      }
      header {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: var(--gap-3);
        padding: var(--gap-2) var(--gap-3) var(--gap-2) var(--gap-5);
        border-bottom: 1px solid var(--line);
      }
      .content {
        overflow-y: auto;
        padding: var(--gap-4) var(--gap-5) var(--gap-5);
        min-height: 0;
      }
      footer {
        display: flex;
        flex-wrap: wrap;
        justify-content: flex-end;
        gap: var(--gap-2);
        padding: var(--gap-3) var(--gap-5);
        border-top: 1px solid var(--line-soft);
      }
      footer.empty {
        display: none;
      }
      @media (max-width: 599px) {
        header {
          padding-left: var(--gap-4);
        }
        .content,
        footer {
          padding-left: var(--gap-4);
          padding-right: var(--gap-4);
        }
      }
    `,
  ];

  /** What it is, above the content; its name for screen readers. */
  @property() heading = '';
  @property({ type: Boolean, reflect: true }) open = false;
  @query('dialog') private dialog!: HTMLDialogElement;
  @query('footer') private footer!: HTMLElement;

  override render() {
    return html`
      <dialog aria-labelledby="heading" @close=${this.onClose} @click=${this.onClick}>
        <header>
          <h2 id="heading">${this.heading}</h2>
          <button class="quiet" aria-label="Close" title="Close (Esc)" @click=${() => this.dialog.close()}>
            ${removeIcon}
          </button>
        </header>
        <div class="content"><slot></slot></div>
        <footer class="empty"><slot name="actions" @slotchange=${this.onActions}></slot></footer>
      </dialog>
    `;
  }

  override updated(changed: PropertyValues<this>): void {
    if (!changed.has('open')) return;
    if (this.open && !this.dialog.open) {
      this.dialog.showModal();
      this.querySelector<HTMLElement>('[autofocus]')?.focus();
    } else if (!this.open && this.dialog.open) this.dialog.close();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    // A dialog taken out while open would leave the page behind it dead to the keyboard when it is put back.
    if (this.dialog?.open) this.dialog.close();
  }

  private readonly onClose = () => {
    this.open = false;
    this.dispatchEvent(new Event('close'));
  };

  /** A touch beside the leaf lands on the dialog itself, outside its box. */
  private readonly onClick = (event: MouseEvent) => {
    if (event.target !== this.dialog) return;
    const box = this.dialog.getBoundingClientRect();
    const isOutside =
      event.clientX < box.left ||
      event.clientX > box.right ||
      event.clientY < box.top ||
      event.clientY > box.bottom;
    // A click made by a key has no place.
    if (isOutside && event.detail > 0) this.dialog.close();
  };

  private readonly onActions = (event: Event) => {
    this.footer.classList.toggle('empty', (event.target as HTMLSlotElement).assignedElements().length === 0);
  };
}
