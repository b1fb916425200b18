import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { formatLength } from '../../core/units.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import type { SectionAxis } from '../../session/ViewPrefs.ts';
import type { Aspect } from '../../view/viewTypes.ts';
import { PrefsEvent } from '../events.ts';
import { ValueEvent } from '../fields/ValueEvent.ts';
import { foldIcon } from '../icons.ts';
import { sectionDistanceMm } from '../sectionPlane.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { FigureLookEvent } from './FigureLookEvent.ts';
import '../fields/ChoiceField.ts';

const ASPECTS: readonly { readonly aspect: Aspect; readonly text: string }[] = [
  { aspect: 'front', text: 'Front' },
  { aspect: 'back', text: 'Back' },
  { aspect: 'left', text: 'Left' },
  { aspect: 'right', text: 'Right' },
  { aspect: 'top', text: 'Top' },
];

const CUT_FROM = { across: 'from the front', along: 'from the left', level: 'above the board' } as const;

/** The ways to look at the mould: five views, slid apart, shell on, cut open and where. Fires ValueEvent<boolean> for the ruler. */
@customElement('scute-figure-foot')
export class FigureFoot extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 4px 18px;
        padding: 6px 14px 10px 18px;
        border-top: 1px solid var(--line-soft);
      }
      .views {
        display: flex;
        border: 1px solid var(--line-control);
        border-radius: 2px;
      }
      .views button {
        border: none;
        border-radius: 0;
        padding: 4px 10px;
        min-height: 42px;
      }
      .views button + button {
        border-left: 1px solid var(--line-soft);
      }
      kbd {
        font: inherit;
        font-size: 0.75rem;
        color: var(--ink-soft);
        margin-left: 6px;
      }
      .slide {
        display: flex;
        align-items: center;
        gap: 10px;
        flex: 1 1 150px;
        max-width: 260px;
      }
      .cut {
        display: flex;
        align-items: center;
        gap: 14px;
        flex: 1 1 100%;
        flex-wrap: wrap;
      }
      .cut input {
        flex: 1 1 160px;
      }
      .cut output {
        min-width: 150px;
      }
      .rest {
        display: contents;
      }
      .slide {
        order: 1;
      }
      label.check {
        order: 2;
      }
      .cut {
        order: 3;
      }
      .opener {
        display: none;
      }
      @container (max-width: 899px) {
        kbd {
          display: none;
        }
        :host {
          gap: 4px 14px;
        }
      }
      /* No room for one row: the slider stays, the rest lies over the picture's lower edge while it is asked for. */
      @container (max-width: 719px) {
        :host {
          position: relative;
          padding: 4px 10px;
        }
        .opener {
          display: flex;
          align-items: center;
          gap: 6px;
        }
        .opener svg {
          transform: rotate(180deg);
        }
        .opener[aria-expanded='true'] svg {
          transform: none;
        }
        .slide {
          max-width: none;
        }
        .rest {
          display: none;
        }
        .rest.open {
          display: flex;
          flex-wrap: wrap;
          align-items: center;
          gap: 4px 14px;
          position: absolute;
          left: 0;
          right: 0;
          bottom: 100%;
          z-index: 2;
          padding: 8px 10px;
          background: var(--paper);
          border-top: 1px solid var(--line);
        }
        .views {
          width: 100%;
        }
        .views button {
          flex: 1;
          padding: 4px 2px;
        }
        .cut {
          gap: 4px 10px;
        }
        .cut input {
          flex: 1 1 90px;
        }
        .cut output {
          min-width: 0;
        }
      }
      /* A telephone: two rows while it is cut open, and the slider for the pieces only while the ways to look are in sight. */
      @container (max-width: 599px) {
        .cut {
          display: contents;
        }
        .cut > *,
        .cut > label.check {
          order: 3;
        }
        .cut-open.slide {
          display: none;
        }
        .open ~ .cut-open.slide {
          display: flex;
          order: 4;
          flex-basis: 100%;
        }
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  /** While the pencil is on the rubber, the mould stays closed and bare. */
  @property({ type: Boolean }) isDrawing = false;
  @property({ type: Boolean }) isRulerOn = false;
  /** Where there is no room for one row: the other ways to look are in sight. */
  @state() private isOpen = false;

  override render() {
    const { prefs } = this.session;
    const { isDrawing } = this;
    return html`
      <button
        class="opener"
        aria-expanded=${this.isOpen ? 'true' : 'false'}
        aria-controls="rest"
        @click=${() => {
          this.isOpen = !this.isOpen;
        }}
      >
        Look ${foldIcon}
      </button>
      <div id="rest" class="rest ${this.isOpen ? 'open' : ''}">
      <div class="views" role="group" aria-label="Views">
        ${ASPECTS.map(
          ({ aspect, text }, i) =>
            html`<button
              title="${text} (${i + 1})"
              @click=${() => this.dispatchEvent(new FigureLookEvent(aspect))}
            >
              ${text}<kbd>${i + 1}</kbd>
            </button>`,
        )}
      </div>
      <label class="check">
        <input
          type="checkbox"
          .checked=${prefs.isShellShown}
          ?disabled=${isDrawing}
          @change=${(e: Event) => this.prefer({ isShellShown: (e.target as HTMLInputElement).checked })}
        />
        Shell on
      </label>
      <label class="check">
        <input
          type="checkbox"
          .checked=${prefs.isSectionOn}
          @change=${(e: Event) => this.prefer({ isSectionOn: (e.target as HTMLInputElement).checked })}
        />
        Cut open
      </label>
      </div>
      <div class="slide ${prefs.isSectionOn ? 'cut-open' : ''}">
        <label for="apart">Apart</label>
        <input
          id="apart"
          type="range"
          min="0"
          max="1"
          step="0.01"
          .value=${String(prefs.apart)}
          ?disabled=${isDrawing}
          @input=${(e: Event) => this.prefer({ apart: Number((e.target as HTMLInputElement).value) })}
        />
      </div>
      ${prefs.isSectionOn ? this.renderSection() : nothing}
    `;
  }

  private renderSection() {
    const { prefs, answer } = this.session;
    const rubber = answer?.geometry.rubber;
    const distance = rubber
      ? `${formatLength(sectionDistanceMm(prefs.sectionAxis, prefs.sectionAt, rubber.box), prefs.units)} ${CUT_FROM[prefs.sectionAxis]}`
      : '';
    return html`
      <div class="cut">
        <scute-choice
          bare
          label="Plane of the cut"
          .options=${[
            { value: 'across', text: 'across' },
            { value: 'along', text: 'along' },
            { value: 'level', text: 'level' },
          ]}
          .value=${prefs.sectionAxis}
          @value=${(e: ValueEvent<string>) => this.prefer({ sectionAxis: e.value as SectionAxis })}
        ></scute-choice>
        <input
          type="range"
          min="0"
          max="1"
          step="0.005"
          aria-label="Place of the cut"
          aria-valuetext=${distance}
          .value=${String(prefs.sectionAt)}
          @input=${(e: Event) => this.prefer({ sectionAt: Number((e.target as HTMLInputElement).value) })}
        />
        <output class="small">${distance}</output>
        <label class="check">
          <input
            type="checkbox"
            .checked=${this.isRulerOn}
            @change=${(e: Event) => this.dispatchEvent(new ValueEvent((e.target as HTMLInputElement).checked))}
          />
          Ruler
        </label>
      </div>
    `;
  }

  private prefer(change: PrefsEvent['change']): void {
    this.dispatchEvent(new PrefsEvent(change));
  }
}
