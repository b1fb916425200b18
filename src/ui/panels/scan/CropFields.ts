import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatLength } from '../../../core/units.ts';
import {
  aimed,
  type CutDraft,
  type CutKind,
  cutDepthMm,
  cutNormal,
  firstCut,
  flipped,
  reachAlong,
  SIDE_AZIMUTHS_DEG,
  slanted,
  withDepth,
} from '../../../session/cutDraft.ts';
import { isStale, type PlanEdit, type SessionState } from '../../../session/SessionStore.ts';
import { MOST_CROPS, removeCrop, setCrumbShare, setFillHoles } from '../../../session/scanActions.ts';
import { meanOf, planeInBox } from '../../../view/overlay/planeInBox.ts';
import type { StanderState } from '../../control/Stander.ts';
import { type Command, CommandEvent, PlanEditEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { removeIcon } from '../../icons.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { sayCut } from './sayCut.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/LengthField.ts';
import '../../fields/NumberField.ts';

/** What does not belong to the mould: planes that cut it away, seen before they do; crumbs and holes. */
@customElement('scute-crop-fields')
export class CropFields extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .fields.low {
        align-items: end;
      }
      .cut {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto var(--target);
        gap: 8px;
        align-items: center;
        border-bottom: 1px solid var(--line-soft);
      }
      .cut button:last-child {
        padding: 0;
      }
      input[type='range'] {
        width: 100%;
        height: var(--target);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) stander!: StanderState;

  override render() {
    const { plan, prefs } = this.session;
    const { scan } = plan;
    return html`
      <h3>Cut away</h3>
      ${
        scan.crops.length === 0 && this.stander.mode !== 'crop'
          ? html`<p class="small soft">A table, a stand, a wall in the scan: cut it away with planes, one after the other.</p>`
          : nothing
      }
      ${scan.crops.map((crop, i) => {
        const said = sayCut(crop, prefs.units);
        return html`<div class="cut">
          <span>${said}</span>
          <button class="quiet" ?disabled=${this.isOff} @click=${() => this.ask({ do: 'cut-move', index: i })}>
            Move
          </button>
          <button
            class="quiet"
            aria-label="Take back the cut: ${said}"
            title="Take the cut back"
            @click=${() => this.edit(removeCrop(i))}
          >
            ${removeIcon}
          </button>
        </div>`;
      })}
      ${this.stander.mode === 'crop' && this.stander.cut ? this.renderDraft(this.stander.cut) : this.renderStart()}
      <div class="fields low">
        <scute-number-field
          label="Drop crumbs below"
          unit="% of the largest"
          .value=${scan.crumbShare * 100}
          min="0"
          max="100"
          step="0.5"
          digits="2"
          @value=${(e: ValueEvent<number>) => this.edit(setCrumbShare(e.value / 100))}
        ></scute-number-field>
        <scute-length-field
          label="Fill holes up to, all round"
          .mm=${scan.fillHolesToMm}
          .system=${prefs.units}
          @value=${(e: ValueEvent<number>) => this.edit(setFillHoles(e.value))}
        ></scute-length-field>
      </div>
    `;
  }

  private renderStart() {
    const isFull = this.session.plan.scan.crops.length >= MOST_CROPS;
    return html`<div class="row actions">
      <button ?disabled=${this.isOff || isFull} @click=${() => this.ask({ do: 'cut-start', kind: 'level' })}>
        Cut with a plane
      </button>
      ${isFull ? html`<span class="small soft">A plan holds ${MOST_CROPS} cuts; take one back first.</span>` : nothing}
    </div>`;
  }

  private renderDraft(cut: CutDraft) {
    const { box } = this;
    if (!box) return nothing;
    const { units } = this.session.prefs;
    const depthMm = cutDepthMm(cut, box);
    const normal = cutNormal(cut);
    const spanMm =
      reachAlong(box, normal) + reachAlong(box, normal.map((n) => -n) as unknown as typeof normal);
    const isFromBelow = cut.kind === 'level' && cut.slopeDeg < 0;
    const label = isFromBelow ? 'Height above the board' : 'So far in';
    return html`
      <div class="stack">
        <scute-choice
          label="Plane"
          .options=${[
            { value: 'level', text: 'level' },
            { value: 'upright', text: 'upright' },
            { value: 'free', text: 'slanted' },
          ]}
          .value=${cut.kind}
          @value=${(e: ValueEvent<string>) => this.set(firstCut(e.value as CutKind, box))}
        ></scute-choice>
        ${cut.kind === 'upright' ? this.renderSides(cut) : nothing}
        ${cut.kind === 'level' ? nothing : this.renderAngles(cut)}
        <scute-length-field
          label=${label}
          .mm=${depthMm}
          .system=${units}
          min="-100000"
          @value=${(e: ValueEvent<number>) => this.set(withDepth(cut, e.value, box))}
        ></scute-length-field>
        <input
          type="range"
          aria-label=${label}
          aria-valuetext=${formatLength(depthMm, units)}
          min="0"
          max=${spanMm}
          step=${spanMm / 1000}
          .value=${String(depthMm)}
          @input=${(e: Event) => this.set(withDepth(cut, Number((e.target as HTMLInputElement).value), box))}
        />
      </div>
      <p class="small soft">
        What is struck through in the figure goes. Drag the handle, or the slider.
        ${isFromBelow ? 'The board goes up to the cut.' : nothing}
      </p>
      <div class="row actions">
        <button class="primary" @click=${() => this.ask({ do: 'cut-take' })}>
          ${this.stander.cutIndex === null ? 'Cut it away' : 'Cut here'}
        </button>
        <button @click=${() => this.set(flipped(cut))}>Other side</button>
        <button class="quiet" @click=${() => this.ask({ do: 'stand-rest' })}>Cancel</button>
      </div>
    `;
  }

  private renderSides(cut: CutDraft) {
    const { box } = this;
    const side = Object.entries(SIDE_AZIMUTHS_DEG).find(([, deg]) => deg === cut.azimuthDeg)?.[0] ?? '';
    return html`<scute-choice
      label="From the"
      .options=${Object.keys(SIDE_AZIMUTHS_DEG).map((value) => ({ value, text: value }))}
      .value=${side}
      @value=${(e: ValueEvent<string>) => {
        const azimuthDeg = SIDE_AZIMUTHS_DEG[e.value as keyof typeof SIDE_AZIMUTHS_DEG];
        if (box) this.set(aimed(cut, { azimuthDeg }, box));
      }}
    ></scute-choice>`;
  }

  private renderAngles(cut: CutDraft) {
    return html`<div class="fields">
      <scute-number-field
        label="Round, seen from above"
        unit="°"
        .value=${cut.azimuthDeg}
        step="1"
        digits="1"
        min="-360"
        max="360"
        @value=${(e: ValueEvent<number>) => this.slant(cut, { azimuthDeg: ((e.value % 360) + 360) % 360 })}
      ></scute-number-field>
      ${
        cut.kind === 'free'
          ? html`<scute-number-field
            label="Off level"
            unit="°"
            .value=${cut.slopeDeg}
            step="1"
            digits="1"
            min="-90"
            max="90"
            @value=${(e: ValueEvent<number>) => this.slant(cut, { slopeDeg: e.value })}
          ></scute-number-field>`
          : nothing
      }
    </div>`;
  }

  /** Turned about the middle of what the plane crosses of the mould's box. */
  private slant(cut: CutDraft, change: Partial<Pick<CutDraft, 'azimuthDeg' | 'slopeDeg'>>): void {
    const { box } = this;
    if (!box) return;
    const ring = planeInBox({ normal: cutNormal(cut), offsetMm: cut.offsetMm }, box);
    this.set(ring.length > 0 ? slanted(cut, change, meanOf(ring)) : aimed(cut, change, box));
  }

  private get box() {
    const rubber = this.session.answer?.geometry.rubber;
    return rubber ? rubber.box : null;
  }

  private get isOff(): boolean {
    return !this.session.answer || isStale(this.session);
  }

  private set(cut: CutDraft): void {
    this.ask({ do: 'cut-set', cut });
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }

  private ask(command: Command): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
