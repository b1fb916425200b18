import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import {
  addScale,
  removeScale,
  setBatches,
  setBucket,
  setBucketFill,
  setHands,
  setMargin,
  setMixer,
  setPace,
  setRatioTolerance,
  setScaleValues,
} from '../../../session/benchActions.ts';
import { COAT_KINDS } from '../../../session/planChoices.ts';
import type { SessionState } from '../../../session/SessionStore.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { removeIcon } from '../../icons.ts';
import { LateElement } from '../../parts/LateElement.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { askEdit } from './askEdit.ts';
import { capital } from './capital.ts';
import { mixStyles } from './mixStyles.ts';
import { percentOf, shareOfPercent } from './sayPercent.ts';
import { shopUnit } from './shopUnits.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/MassField.ts';
import '../../fields/NumberField.ts';

/** How this shop mixes, weighs and lays up. */
@customElement('scute-bench-fields')
export class BenchFields extends LateElement {
  static override styles = [sharedStyles, panelStyles, mixStyles];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { bench } = this.session.plan;
    const { units } = this.session.prefs;
    const bucket = shopUnit('bucket', units);
    return html`
      <div class="fields">
        <scute-number-field
          label="Bucket"
          unit=${bucket.unit}
          .value=${bench.bucketMl / bucket.per}
          step="0.5"
          min="0.01"
          max="1000"
          @value=${(e: ValueEvent<number>) => askEdit(this, setBucket(e.value * bucket.per), e, 'bucket')}
        ></scute-number-field>
        <scute-number-field
          label="Filled at most"
          unit="%"
          .value=${percentOf(bench.bucketFillShare)}
          step="5"
          min="1"
          max="100"
          @value=${(e: ValueEvent<number>) =>
            askEdit(this, setBucketFill(shareOfPercent(e.value)), e, 'bucket-fill')}
        ></scute-number-field>
        <scute-mass-field
          label="Mixer turns over at most"
          optional
          placeholder="no limit"
          .g=${bench.mixerMostG}
          .system=${units}
          @value=${(e: ValueEvent<number | null>) => askEdit(this, setMixer(e.value))}
        ></scute-mass-field>
        <scute-number-field
          label="Pairs of hands"
          .value=${bench.hands}
          min="1"
          max="20"
          @value=${(e: ValueEvent<number>) => askEdit(this, setHands(Math.round(e.value)), e, 'hands')}
        ></scute-number-field>
        <scute-number-field
          label="Kept free before it sets"
          unit="min"
          .value=${bench.marginMin}
          min="0"
          max="1000"
          @value=${(e: ValueEvent<number>) => askEdit(this, setMargin(e.value), e, 'margin')}
        ></scute-number-field>
        <scute-number-field
          label="Off its part by rounding"
          unit="% at most"
          .value=${percentOf(bench.ratioTolerance)}
          step="0.5"
          min="0.01"
          max="50"
          @value=${(e: ValueEvent<number>) =>
            askEdit(this, setRatioTolerance(shareOfPercent(e.value)), e, 'tolerance')}
        ></scute-number-field>
        <scute-choice
          class="wide"
          label="Batches of a coat"
          .options=${[
            { value: 'equal', text: 'equal ones' },
            { value: 'full-and-rest', text: 'full ones and a rest' },
          ]}
          .value=${bench.batches}
          @value=${(e: ValueEvent<string>) =>
            askEdit(this, setBatches(e.value === 'full-and-rest' ? 'full-and-rest' : 'equal'))}
        ></scute-choice>
      </div>
      ${this.renderPace()} ${this.renderScales()}
    `;
  }

  private renderPace() {
    const { bench } = this.session.plan;
    const pace = shopUnit('pace', this.session.prefs.units);
    return html`
      <h4>Laid up by one pair of hands</h4>
      <div class="fields">
        ${COAT_KINDS.map(
          (kind) => html`<scute-number-field
            label="${capital(kind)} coat"
            unit=${pace.unit}
            .value=${bench.paceCm2PerMin[kind] / pace.per}
            step="5"
            min="0.1"
            max="100000"
            digits="1"
            @value=${(e: ValueEvent<number>) =>
              askEdit(this, setPace(kind, e.value * pace.per), e, `pace-${kind}`)}
          ></scute-number-field>`,
        )}
      </div>
      <p class="small soft after">A guess until you have timed a few batches: the log learns your own.</p>
    `;
  }

  private renderScales() {
    const { bench } = this.session.plan;
    const { units } = this.session.prefs;
    return html`
      <h4>Scales</h4>
      ${bench.scales.map(
        (scale, i) => html`<div class="line">
          <scute-mass-field
            label="${capital(scale.name)} carries"
            .g=${scale.mostG}
            .system=${units}
            @value=${(e: ValueEvent<number | null>) => {
              if (e.value !== null) askEdit(this, setScaleValues(i, { mostG: e.value }));
            }}
          ></scute-mass-field>
          <scute-number-field
            label="in steps of"
            unit="g"
            .value=${scale.stepG}
            step="0.1"
            min="0.001"
            max=${scale.mostG / 2}
            @value=${(e: ValueEvent<number>) => askEdit(this, setScaleValues(i, { stepG: e.value }), e, `step-${i}`)}
          ></scute-number-field>
          ${
            bench.scales.length > 1
              ? html`<button
                class="quiet"
                aria-label="Take out the ${scale.name}"
                title="Take out the scale"
                @click=${() => askEdit(this, removeScale(i))}
              >
                ${removeIcon}
              </button>`
              : nothing
          }
        </div>`,
      )}
      <div class="row actions"><button @click=${() => askEdit(this, addScale())}>Add a scale</button></div>
      <p class="small soft after">Each weighing goes on the finest scale that carries it.</p>
    `;
  }
}
