import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { MarkedArea } from '../../../core/plan/PlanDocument.ts';
import type { SessionState } from '../../../session/SessionStore.ts';
import { changeKeepClear, removeKeepClear } from '../../../session/scanActions.ts';
import type { PainterState } from '../../control/Painter.ts';
import { CommandEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import type { AreaEdits } from '../AreaFields.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/LengthField.ts';
import '../AreaFields.ts';

/** Ends of the brush's slider, mm; it runs evenly in factors. Own choice: a bolt's head to a hand. */
const LEAST_BRUSH_MM = 2;
const MOST_BRUSH_MM = 100;

/** Areas that the shell leaves free, painted on the rubber with a brush of a true size. */
@customElement('scute-clear-fields')
export class ClearFields extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .more {
        display: flex;
        gap: var(--gap-2);
        align-items: center;
        justify-content: space-between;
      }
      .brush {
        display: grid;
        margin-top: var(--gap-3);
        grid-template-columns: 120px minmax(0, 1fr);
        gap: 12px;
        align-items: end;
      }
      .brush input {
        width: 100%;
        min-height: var(--target);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) painter!: PainterState;

  override render() {
    const { plan, answer } = this.session;
    const { does } = this.painter;
    return html`
      <h3>Keep clear</h3>
      <p class="small soft">Key backs, the pour opening: paint what the shell is to leave free.</p>
      ${plan.scan.keepClear.map((area, i) => this.renderArea(area, i))}
      ${does === null ? nothing : this.renderBrush()}
      <div class="row actions">
        ${
          does === null
            ? html`<button ?disabled=${!answer} @click=${() => this.ask({ do: 'paint-take', does: 'paint', area: null })}>
                Paint an area
              </button>
              ${
                plan.scan.keepClear.length === 0
                  ? nothing
                  : html`<button @click=${() => this.ask({ do: 'paint-take', does: 'erase', area: null })}>Erase</button>`
              }`
            : html`<button class="primary" @click=${() => this.ask({ do: 'paint-rest' })}>Done</button>
              ${
                does === 'paint'
                  ? html`<button @click=${() => this.ask({ do: 'paint-take', does: 'erase', area: null })}>Erase</button>`
                  : html`<button @click=${() => this.ask({ do: 'paint-take', does: 'paint', area: null })}>Paint</button>`
              }`
        }
      </div>
    `;
  }

  private renderArea(area: MarkedArea, i: number) {
    const { painter } = this;
    const isPainted = painter.does === 'paint' && painter.area === i;
    const dabs = area.dabsMm.length === 1 ? 'one dab' : `${area.dabsMm.length} dabs`;
    return html`<div>
      <scute-area-fields
        label="Area"
        gesture="clear-${i}"
        .area=${area}
        .units=${this.session.prefs.units}
        .edits=${{ change: (change) => changeKeepClear(i, change), remove: () => removeKeepClear(i) } satisfies AreaEdits}
      ></scute-area-fields>
      <div class="more small soft">
        <span>${isPainted && painter.isFull ? `${dabs}: it holds no more, begin another` : dabs}</span>
        ${
          isPainted
            ? html`<b>in hand</b>`
            : html`<button class="quiet" @click=${() => this.ask({ do: 'paint-take', does: 'paint', area: i })}>
              Paint more
            </button>`
        }
      </div>
    </div>`;
  }

  private renderBrush() {
    const { does, radiusMm } = this.painter;
    const share = Math.log(radiusMm / LEAST_BRUSH_MM) / Math.log(MOST_BRUSH_MM / LEAST_BRUSH_MM);
    const set = (mm: number) => this.ask({ do: 'paint-radius', radiusMm: mm });
    return html`
      <p class="note">
        ${
          does === 'paint'
            ? 'Drag on the rubber to paint; beside it you turn the mould. Space dabs at the cross, [ and ] change the size.'
            : 'Drag over dabs to take them away; beside the rubber you turn the mould. Space takes away at the cross.'
        }
      </p>
      <div class="brush">
        <scute-length-field
          label=${does === 'paint' ? 'Brush, radius' : 'Eraser, radius'}
          .mm=${radiusMm}
          .system=${this.session.prefs.units}
          @value=${(e: ValueEvent<number>) => set(e.value)}
        ></scute-length-field>
        <input
          type="range"
          min="0"
          max="1"
          step="0.01"
          aria-label="Size of the brush"
          .value=${String(share)}
          @input=${(e: Event) => {
            const at = Number((e.target as HTMLInputElement).value);
            set(Math.round(10 * LEAST_BRUSH_MM * (MOST_BRUSH_MM / LEAST_BRUSH_MM) ** at) / 10);
          }}
        />
      </div>
    `;
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
