import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import type { UnitSystem } from '../../core/units.ts';
import type { DrawerState } from '../control/DrawerKeeper.ts';
import { CommandEvent } from '../events.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { sayBytes } from './sayBytes.ts';
import '../parts/SheetDialog.ts';
import './PlanCard.ts';

/** The plan drawer: every plan that this browser keeps, and what was thrown away and can still be put back. */
@customElement('scute-plan-drawer')
export class PlanDrawer extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      scute-dialog {
        --dialog-width: 760px;
      }
      .lead {
        color: var(--ink-soft);
      }
      .row-of {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: var(--gap-2);
        padding: var(--gap-2) 0;
        border-bottom: 1px solid var(--line-soft);
      }
      .row-of > span {
        flex: 1 1 200px;
        overflow-wrap: anywhere;
      }
    `,
  ];

  @property({ attribute: false }) drawer!: DrawerState;
  @property() units: UnitSystem = 'metric';

  override render() {
    const { cards, isOpen, problem } = this.drawer;
    return html`
      <scute-dialog heading="Plans" ?open=${isOpen} @close=${() => this.ask({ do: 'close-drawer' })}>
        <p class="lead">
          Kept in this browser, on this device. The safe copy is a file: it holds plan and scan.
        </p>
        <div role="alert">${problem ? html`<p class="problem">${problem}</p>` : nothing}</div>
        ${this.renderUnkept()}
        ${
          cards === null
            ? html`<p class="soft">Looking in the drawer…</p>`
            : cards.length === 0
              ? html`<p>Nothing is kept yet. Open a scan, or change something in the demo.</p>`
              : html`<ul aria-label="Kept plans">
                ${repeat(
                  cards,
                  ({ kept }) => kept.id,
                  (card) =>
                    html`<li><scute-plan-card .card=${card} .units=${this.units}></scute-plan-card></li>`,
                )}
              </ul>`
        }
        ${this.renderBin()} ${this.renderSpace()}
        <button slot="actions" @click=${() => this.leaveFor({ do: 'open-demo' })}>Demo</button>
        <button slot="actions" class="primary" @click=${() => this.leaveFor({ do: 'pick-file' })}>
          Open a scan or a file
        </button>
      </scute-dialog>
    `;
  }

  /** What only this tab has: the first thing to see to. */
  private renderUnkept() {
    const { unkept } = this.drawer;
    if (unkept.length === 0) return nothing;
    return html`
      <h3>In this tab only</h3>
      <p class="small soft">The browser could not keep these. Open one to save it to a file.</p>
      <ul>
        ${unkept.map(
          ({ plan }, index) => html`<li class="row-of">
            <span>${plan.job.name}</span>
            <button aria-label=${`Open: ${plan.job.name}`} @click=${() => this.ask({ do: 'open-unkept', index })}>
              Open
            </button>
          </li>`,
        )}
      </ul>
    `;
  }

  private renderBin() {
    const { binned } = this.drawer;
    if (binned.length === 0) return nothing;
    return html`
      <h3>Deleted</h3>
      <p class="small soft">Erased by itself after a day. Until then it takes up its space.</p>
      <ul aria-label="Deleted plans">
        ${binned.map(
          ({ kept }) => html`<li class="row-of">
            <span>${kept.name}</span>
            <button
              aria-label=${`Put back: ${kept.name}`}
              @click=${() => this.ask({ do: 'put-back', id: kept.id })}
            >
              Put back
            </button>
            <button
              class="quiet"
              aria-label=${`Erase for good: ${kept.name}`}
              @click=${() => this.ask({ do: 'erase-kept', id: kept.id })}
            >
              Erase for good
            </button>
          </li>`,
        )}
      </ul>
    `;
  }

  private renderSpace() {
    const { cards, keptBytes, quotaBytes, isPersistent } = this.drawer;
    if (cards === null) return nothing;
    return html`
      <h3>Space</h3>
      <p>
        ${sayBytes(keptBytes)} kept${
          quotaBytes === null ? nothing : html`; the browser allows this page ${sayBytes(quotaBytes)} in all`
        }.
      </p>
      ${
        isPersistent === true
          ? html`<p class="small soft">The browser has promised not to clear it by itself.</p>`
          : isPersistent === false
            ? html`<div class="row">
              <p class="small soft">The browser may clear it when the disk runs full.</p>
              <button @click=${() => this.ask({ do: 'persist-store' })}>Ask it to hold on to it</button>
            </div>`
            : nothing
      }
    `;
  }

  private leaveFor(command: CommandEvent['command']): void {
    this.ask({ do: 'close-drawer' });
    this.ask(command);
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
