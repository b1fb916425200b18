import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { UnitSystem } from '../../core/units.ts';
import type { DrawerCard } from '../control/DrawerKeeper.ts';
import { CommandEvent } from '../events.ts';
import type { TextField } from '../fields/TextField.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { saySize } from '../sayLengths.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { sayWhen } from './sayWhen.ts';
import '../fields/TextField.ts';

/** One kept plan: its picture, its name, what it is of, and what can be done with it. */
@customElement('scute-plan-card')
export class PlanCard extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: grid;
        grid-template-columns: 120px minmax(0, 1fr);
        grid-template-rows: 1fr auto;
        gap: var(--gap-1) var(--gap-4);
        padding: var(--gap-3) 0;
        border-bottom: 1px solid var(--line-soft);
      }
      .picture {
        grid-row: span 2;
        width: 120px;
        height: 90px;
        border: 1px solid var(--line-soft);
        background: var(--paper-raised);
        display: grid;
        place-items: center;
        text-align: center;
      }
      img {
        width: 100%;
        height: 100%;
        object-fit: cover;
      }
      h3 {
        margin: 0;
        overflow-wrap: anywhere;
      }
      .facts-line {
        overflow-wrap: anywhere;
      }
      .acts {
        gap: 0 var(--gap-1);
        /* The words of quiet buttons stand under the name. */
        margin-left: -10px;
      }
      .acts button:first-child:not(.quiet) {
        margin-left: 10px;
      }
      .problem {
        margin-top: var(--gap-2);
      }
      @media (max-width: 599px) {
        :host {
          grid-template-columns: 80px minmax(0, 1fr);
        }
        .picture {
          grid-row: auto;
          width: 80px;
          height: 60px;
        }
        .acts {
          grid-column: 1 / -1;
        }
      }
    `,
  ];

  @property({ attribute: false }) card!: DrawerCard;
  @property() units: UnitSystem = 'metric';
  @state() private isRenaming = false;

  override render() {
    const { kept, pictureHref, isOpen, trouble } = this.card;
    const { name, scanName, sizeMm, changedAt } = kept;
    return html`
      <div class="picture">
        ${pictureHref ? html`<img src=${pictureHref} alt="" />` : html`<span class="small soft">no picture</span>`}
      </div>
      <div>
        ${
          this.isRenaming
            ? html`<scute-text-field
              label="Name of the job"
              .value=${name}
              @value=${(e: ValueEvent<string>) => this.rename(e.value)}
              @keydown=${this.onKey}
              @focusout=${this.onLeave}
            ></scute-text-field>`
            : html`<h3>${name}</h3>`
        }
        <p class="small soft facts-line">
          ${scanName}${sizeMm ? html`, ${saySize(sizeMm, this.units)}` : nothing}
        </p>
        <p class="small soft">
          Changed ${sayWhen(new Date(changedAt), new Date(), this.units)}${isOpen ? html`; <strong>open now</strong>` : nothing}
        </p>
        ${trouble ? html`<p class="problem small">Cannot be opened here. ${trouble}</p>` : nothing}
      </div>
      <div class="row acts">
        ${isOpen ? nothing : this.button('Open', { do: 'open-kept', id: kept.id }, trouble !== null)}
        <button
          class="quiet"
          aria-label=${`Rename ${name}`}
          ?disabled=${trouble !== null || this.isRenaming}
          @click=${this.startRenaming}
        >
          Rename
        </button>
        ${this.button('Duplicate', { do: 'copy-kept', id: kept.id }, trouble !== null)}
        ${this.button('Save to a file', { do: 'save-kept', id: kept.id })}
        ${this.button('Delete', { do: 'bin-kept', id: kept.id })}
      </div>
    `;
  }

  private button(text: string, command: CommandEvent['command'], isDisabled = false) {
    return html`<button
      class=${text === 'Open' ? '' : 'quiet'}
      aria-label=${`${text}: ${this.card.kept.name}`}
      ?disabled=${isDisabled}
      @click=${() => this.dispatchEvent(new CommandEvent(command))}
    >
      ${text}
    </button>`;
  }

  private readonly startRenaming = async (): Promise<void> => {
    this.isRenaming = true;
    await this.updateComplete;
    const field = this.renderRoot.querySelector<TextField>('scute-text-field');
    await field?.updateComplete;
    field?.renderRoot.querySelector('input')?.select();
  };

  private rename(name: string): void {
    this.isRenaming = false;
    this.dispatchEvent(new CommandEvent({ do: 'rename-kept', id: this.card.kept.id, name }));
  }

  private readonly onKey = (event: KeyboardEvent): void => {
    if (event.key === 'Enter' && !this.isChanged(event)) this.isRenaming = false;
    if (event.key !== 'Escape') return;
    // Takes back the name alone, not the whole drawer.
    event.preventDefault();
    event.stopPropagation();
    this.isRenaming = false;
  };

  private readonly onLeave = (): void => {
    this.isRenaming = false;
  };

  private isChanged(event: KeyboardEvent): boolean {
    const [input] = event.composedPath();
    return input instanceof HTMLInputElement && input.value.trim() !== this.card.kept.name;
  }
}
