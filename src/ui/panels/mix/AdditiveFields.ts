import { html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { DosePoint, Pack } from '../../../core/material/MaterialSystem.ts';
import {
  type EffectKey,
  type PackOwner,
  packsOf,
  removeAdditive,
  setAdditive,
  setEffect,
  setPacks,
} from '../../../session/materialActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { removeIcon } from '../../icons.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { askEdit } from './askEdit.ts';
import { basisHint, basisLines } from './basisLines.ts';
import { capital } from './capital.ts';
import { mixStyles } from './mixStyles.ts';
import { SystemPart } from './SystemPart.ts';
import { percentOf, sayPercent, shareOfPercent } from './sayPercent.ts';
import { sayBase } from './sayRecipe.ts';
import '../../fields/NumberField.ts';
import '../../fields/OptionalNumberField.ts';
import './PackList.ts';

const EFFECTS: readonly (readonly [EffectKey, string])[] = [
  ['workingMin', 'Working time'],
  ['partialCureMin', 'Partial cure'],
  ['fullCureMin', 'Full cure'],
];

/** One additive of a system: what its dose is a share of, its limits, how it is added, and what it does to the times. */
@customElement('scute-additive-fields')
export class AdditiveFields extends SystemPart {
  static override styles = [sharedStyles, panelStyles, mixStyles];

  @property({ type: Number }) index = 0;

  override render() {
    const system = this.edited;
    const additive = system.additives[this.index];
    if (!additive) return nothing;
    const { name } = additive;
    const owner: PackOwner = { of: 'additive', index: this.index };
    return html`<details class="group">
      <summary>
        <span class="title">${capital(name)}</span>
        <span class="said"
          >${sayPercent(additive.typicalShare)} ${sayBase(additive)}, at most ${sayPercent(additive.mostShare)}</span
        >
      </summary>
      <div class="inside">
        <label>
          <span class="small soft">Dosed on the mass</span>
          <select
            aria-label="${name} is dosed on the mass"
            @change=${(e: Event) =>
              this.change(setAdditive(this.index, { base: (e.target as HTMLSelectElement).value }))}
          >
            ${['mix', ...system.components.map((c) => c.name)].map(
              (base) =>
                html`<option value=${base} .selected=${base === additive.base}>${sayBase({ base })}</option>`,
            )}
          </select>
        </label>
        <div class="fields">
          ${this.renderShare('leastShare', 'Least', 0, additive.typicalShare)}
          ${this.renderShare('typicalShare', 'Usual', additive.leastShare, additive.mostShare)}
          ${this.renderShare('mostShare', 'Most', Math.max(additive.typicalShare, 0.0001), 1)}
          <scute-number-field
            label="Density"
            unit="g/cm³"
            .value=${additive.densityGPerCm3}
            hint=${basisHint(system, `${name}.densityGPerCm3`)}
            step="0.01"
            min="0.01"
            max="12"
            @value=${(e: ValueEvent<number>) =>
              this.change(
                setAdditive(this.index, { densityGPerCm3: e.value }),
                e,
                `additive-${this.index}-density`,
              )}
          ></scute-number-field>
          <scute-optional-number
            label="Keeps"
            unit="months"
            .value=${additive.shelfLifeMonths}
            max="1200"
            @value=${(e: ValueEvent<number | null>) =>
              this.change(setAdditive(this.index, { shelfLifeMonths: e.value }))}
          ></scute-optional-number>
        </div>
        ${this.renderForm()} ${EFFECTS.map(([key, label]) => this.renderEffect(key, label))}
        <scute-pack-list
          item=${name}
          .packs=${packsOf(system, owner)}
          .currency=${this.session.plan.supplies.currency}
          .system=${this.session.prefs.units}
          @value=${(e: ValueEvent<readonly Pack[]>) => this.change(setPacks(owner, e.value))}
        ></scute-pack-list>
        ${this.refusal ? html`<p class="problem" role="alert">${this.refusal}</p>` : nothing}
        ${basisLines(system, [
          [`${name}.leastShare`, 'least'],
          [`${name}.typicalShare`, 'usual'],
          [`${name}.mostShare`, 'most'],
          [`${name}.densityGPerCm3`, 'density'],
          ...(additive.solution ? ([[`${name}.solution`, 'solution']] as const) : []),
          ...EFFECTS.filter(([key]) => additive.effects[key].length > 0).map(
            ([key, label]) => [`${name}.effects.${key}`, label.toLowerCase()] as const,
          ),
        ])}
        <div class="row actions">
          <button @click=${() => askEdit(this, removeAdditive(this.slotOf, name))}>
            Take ${name} out of the system
          </button>
        </div>
      </div>
    </details>`;
  }

  private renderShare(
    key: 'leastShare' | 'typicalShare' | 'mostShare',
    label: string,
    least: number,
    most: number,
  ) {
    const system = this.edited;
    const additive = system.additives[this.index];
    return html`<scute-number-field
      label=${label}
      unit="%"
      .value=${percentOf(additive[key])}
      hint=${basisHint(system, `${additive.name}.${key}`)}
      step="0.1"
      min=${percentOf(least)}
      max=${percentOf(most)}
      digits="4"
      @value=${(e: ValueEvent<number>) =>
        this.change(
          setAdditive(this.index, { [key]: shareOfPercent(e.value) }),
          e,
          `additive-${this.index}-${key}`,
        )}
    ></scute-number-field>`;
  }

  private renderForm() {
    const { name, solution } = this.edited.additives[this.index];
    return html`
      <label class="check">
        <input
          type="checkbox"
          .checked=${solution !== null}
          @change=${() =>
            this.change(
              setAdditive(this.index, { solution: solution === null ? { activeG: 1, waterG: 10 } : null }),
            )}
        />
        Added as a solution
      </label>
      ${
        solution
          ? html`<div class="fields">
            <scute-number-field
              label="${capital(name)} in it"
              unit="g"
              .value=${solution.activeG}
              min="0.001"
              max="1000000"
              @value=${(e: ValueEvent<number>) =>
                this.change(setAdditive(this.index, { solution: { ...solution, activeG: e.value } }))}
            ></scute-number-field>
            <scute-number-field
              label="in water"
              unit="g"
              .value=${solution.waterG}
              min="0.001"
              max="1000000"
              @value=${(e: ValueEvent<number>) =>
                this.change(setAdditive(this.index, { solution: { ...solution, waterG: e.value } }))}
            ></scute-number-field>
          </div>`
          : nothing
      }
    `;
  }

  private renderEffect(key: EffectKey, label: string) {
    const additive = this.edited.additives[this.index];
    const points = additive.effects[key];
    const give = (next: readonly DosePoint[]) => this.change(setEffect(this.index, key, next));
    return html`
      <h4>${label}</h4>
      ${points.length === 0 ? html`<p class="small soft">Not known: taken as without it.</p>` : nothing}
      ${points.map(
        (point, i) => html`<div class="line">
          <scute-number-field
            label="At a dose of"
            unit="%"
            .value=${percentOf(point.doseShare)}
            step="0.5"
            min="0"
            max="100"
            digits="4"
            @value=${(e: ValueEvent<number>) =>
              give(points.map((one, k) => (k === i ? { ...one, doseShare: shareOfPercent(e.value) } : one)))}
          ></scute-number-field>
          <scute-number-field
            label="it is"
            unit="min"
            .value=${point.minutes}
            min="0.1"
            max="100000"
            @value=${(e: ValueEvent<number>) =>
              give(points.map((one, k) => (k === i ? { ...one, minutes: e.value } : one)))}
          ></scute-number-field>
          <button
            class="quiet"
            aria-label="Take out this point of the ${label.toLowerCase()}"
            title="Take out the point"
            @click=${() => give(points.filter((_, k) => k !== i))}
          >
            ${removeIcon}
          </button>
        </div>`,
      )}
      <div class="row actions">
        <button @click=${() => give([...points, this.nextPoint(key)])}>Add a point to the ${label.toLowerCase()}</button>
      </div>
    `;
  }

  /** A point to begin with: without any, then at the usual dose, then between or beyond those that are there. */
  private nextPoint(key: EffectKey): DosePoint {
    const { times, additives } = this.edited;
    const { effects, typicalShare, mostShare } = additives[this.index];
    const taken = new Set(effects[key].map((point) => point.doseShare));
    const last = effects[key].at(-1);
    const doseShare =
      [0, typicalShare, mostShare].find((share) => !taken.has(share)) ??
      shareOfPercent(percentOf(last?.doseShare ?? 0) + 1);
    return { doseShare, minutes: last?.minutes ?? times[key] };
  }
}
