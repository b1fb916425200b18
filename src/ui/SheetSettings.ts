import { css, html, LitElement } from 'lit';
import { customElement, property, query } from 'lit/decorators.js';
import type { ViewPrefs } from '../session/ViewPrefs.ts';
import { CommandEvent, PrefsEvent } from './events.ts';
import type { ValueEvent } from './fields/ValueEvent.ts';
import { moreIcon, themeIcon } from './icons.ts';
import { sharedStyles } from './sharedStyles.ts';
import { phone, wideAndHigh } from './widths.ts';
import './fields/ChoiceField.ts';

/** How far the leaf hangs below its button, px. */
const DROP_PX = 4;

/**
 * What holds for the whole sheet and belongs to no stage: the shop's plans, the bench, units, light or dark. Written out at the foot
 * of the margin where there is room, behind one button elsewhere.
 */
@customElement('scute-settings')
export class SheetSettings extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: grid;
      }
      #more {
        border: none;
        background: none;
        padding: 4px;
        font-size: var(--size-small);
        line-height: 1.2;
      }
      #more:focus-visible {
        outline-offset: -3px;
      }
      #leaf {
        position: fixed;
        inset: auto;
        margin: 0;
        padding: var(--gap-3);
        border: var(--heavy) solid var(--line);
        background: var(--paper);
        color: var(--ink);
        font-size: var(--size-body);
      }
      #leaf:popover-open {
        display: grid;
        gap: var(--gap-2);
        min-width: 220px;
      }
      #leaf button {
        display: flex;
        align-items: center;
        gap: var(--gap-2);
        text-align: left;
        white-space: nowrap;
        padding-left: var(--gap-3);
        padding-right: var(--gap-2);
      }
      #leaf svg {
        margin: 0;
      }
      @media ${wideAndHigh} {
        :host {
          padding: var(--gap-3) var(--gap-3) var(--gap-3) 18px;
        }
        #more {
          display: none;
        }
        #leaf {
          display: grid;
          gap: var(--gap-2);
          position: static;
          min-width: 0;
          padding: 0;
          border: none;
          width: auto;
          height: auto;
          overflow: visible;
        }
      }
      @media ${phone} {
        #more {
          padding: 4px 0;
        }
      }
    `,
  ];

  @property({ attribute: false }) prefs!: ViewPrefs;
  /** The scheme in force, whatever it comes from. */
  @property() scheme: 'light' | 'dark' = 'light';
  @query('#leaf') private leaf!: HTMLElement;
  @query('#more') private more!: HTMLElement;

  override render() {
    const other = this.scheme === 'dark' ? 'light' : 'dark';
    return html`
      <button id="more" popovertarget="leaf" aria-label="More: plans, bench, units, light or dark">
        ${moreIcon} More
      </button>
      <div id="leaf" popover role="group" aria-label="Plans, bench and looks" @beforetoggle=${this.place}>
        <button @click=${() => this.ask({ do: 'open-drawer' })}>Plans</button>
        <button @click=${() => this.prefer({ isAtBench: true })}>At the bench</button>
        <button @click=${() => this.prefer({ theme: other })}>
          ${themeIcon} ${other === 'light' ? 'Light sheet' : 'Dark sheet'}
        </button>
        <scute-choice
          bare
          label="Units"
          .options=${[{ value: 'metric', text: 'metric' }, { value: 'us', text: 'US' }]}
          .value=${this.prefs.units}
          @value=${(e: ValueEvent<string>) => this.prefer({ units: e.value === 'us' ? 'us' : 'metric' })}
        ></scute-choice>
      </div>
    `;
  }

  /** Under its button, its right edge under the button's: where a popover goes by itself is the middle of the window. */
  private readonly place = () => {
    const box = this.more.getBoundingClientRect();
    this.leaf.style.top = `${box.bottom + DROP_PX}px`;
    this.leaf.style.right = `${Math.max(DROP_PX, document.documentElement.clientWidth - box.right)}px`;
  };

  private prefer(change: PrefsEvent['change']): void {
    this.putAway();
    this.dispatchEvent(new PrefsEvent(change));
  }

  private ask(command: CommandEvent['command']): void {
    this.putAway();
    this.dispatchEvent(new CommandEvent(command));
  }

  private putAway(): void {
    if (this.leaf.matches(':popover-open')) this.leaf.hidePopover();
  }
}
