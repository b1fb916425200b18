import { css, html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Additive, MaterialSystem } from '../../../core/material/MaterialSystem.ts';
import type { CoatPlan } from '../../../core/plan/PlanDocument.ts';
import { sayMinutes } from '../../../report/sayClock.ts';
import { sayCoverage } from '../../../report/sayCoverage.ts';
import {
  reinforcementOf,
  setCoatSystem,
  setCoatWait,
  setDose,
  setReinforcementShare,
  systemOfCoat,
  toggleAdditive,
  toggleReinforced,
} from '../../../session/coatActions.ts';
import { builtInSystems } from '../../../session/materialActions.ts';
import type { SessionState } from '../../../session/SessionStore.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { LateElement } from '../../parts/LateElement.ts';
import { sayPiece } from '../../sayPiece.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { askEdit } from './askEdit.ts';
import { mixStyles } from './mixStyles.ts';
import { percentOf, sayPercent, shareOfPercent } from './sayPercent.ts';
import { sayBase, sayWith } from './sayRecipe.ts';
import { sayWeighing } from './sayWeighing.ts';
import '../../fields/NumberField.ts';
import '../../fields/OptionalNumberField.ts';
import './NoteItems.ts';

/** Warnings that no recipe mends: they stand on the stages Mix and Sheet. */
const OF_THE_SHOP: ReadonlySet<string> = new Set([
  'short-of-stock',
  'day-too-short',
  'log-gap',
  'log-stray',
  'nothing-left',
]);

/** Value of the choice that stands for the plan's own system. */
const OWN = '';

/** What one coat is mixed from: additives and reinforcement at a touch, their doses, and what warns about them. */
@customElement('scute-coat-recipe')
export class CoatRecipe extends LateElement {
  static override styles = [
    sharedStyles,
    mixStyles,
    css`
      .toggles {
        display: flex;
        flex-wrap: wrap;
        gap: 6px;
      }
      .toggles button {
        padding: 6px 9px;
      }
      .fields {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(140px, 100%), 1fr));
        gap: 10px 14px;
        margin-top: 10px;
        align-items: start;
      }
      .fields .wide {
        grid-column: 1 / -1;
      }
      details.group {
        border-bottom: none;
      }
      .inside {
        padding-bottom: 6px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  /** Number of the coat, from 0. */
  @property({ type: Number }) coat = 0;
  /** The user's own systems that were kept. */
  @property({ attribute: false }) kept: readonly MaterialSystem[] = [];

  override render() {
    const { plan, answer } = this.session;
    const coat = plan.coats[this.coat];
    if (!coat) return nothing;
    const system = systemOfCoat(plan, coat);
    const notes = (answer?.result.workNotes ?? []).filter(
      (note) => note.coat === this.coat && !OF_THE_SHOP.has(note.code),
    );
    const laid = answer?.result.coatWork.find((work) => work.coat === this.coat);
    const pieceNames = new Map((answer?.result.pieces ?? []).map((piece) => [piece.id, sayPiece(piece)]));
    return html`
      ${this.renderToggles(coat, system)}
      <div class="fields" role="group" aria-label="Doses of ${coat.name}">
        ${coat.additives.map(({ name, doseShare }) =>
          this.renderDose(
            name,
            doseShare,
            system.additives.find((one) => one.name === name),
          ),
        )}
        ${this.renderReinforcement(coat, system)}
      </div>
      ${
        laid
          ? html`<p class="note">
            ${sayCoverage(laid.densityGPerCm3, coat.thicknessMm, this.session.prefs.units)}.
          </p>`
          : nothing
      }
      <scute-notes-of-work .units=${this.session.prefs.units} .notes=${notes} .pieceNames=${pieceNames}></scute-notes-of-work>
      ${this.renderRest(coat, system)}
    `;
  }

  private renderToggles(coat: CoatPlan, system: MaterialSystem) {
    const { reinforcement } = system;
    if (system.additives.length === 0 && reinforcement === null) return nothing;
    return html`<div class="toggles" role="group" aria-label="${coat.name} is">
      ${system.additives.map((additive) => {
        const isIn = coat.additives.some((dose) => dose.name === additive.name);
        return html`<button
          aria-pressed=${isIn ? 'true' : 'false'}
          title="${additive.name}, ${sayPercent(additive.typicalShare)} ${sayBase(additive)}"
          @click=${() => askEdit(this, toggleAdditive(this.coat, additive))}
        >
          ${sayWith(additive.name)}
        </button>`;
      })}
      ${
        reinforcement
          ? html`<button
            aria-pressed=${reinforcementOf(coat, system) > 0 ? 'true' : 'false'}
            title="${reinforcement.name}, ${sayPercent(reinforcement.typicalShare)} on the mix"
            @click=${() => askEdit(this, toggleReinforced(this.coat))}
          >
            reinforced
          </button>`
          : nothing
      }
    </div>`;
  }

  private renderDose(name: string, doseShare: number, additive: Additive | undefined) {
    if (!additive) {
      return html`<div class="wide">
        <button @click=${() => askEdit(this, setDose(this.coat, name, 0))}>
          Take ${name} out: the system has none
        </button>
      </div>`;
    }
    const { leastShare, mostShare } = additive;
    const limits =
      leastShare > 0
        ? `${percentOf(leastShare)} to ${sayPercent(mostShare)}`
        : `up to ${sayPercent(mostShare)}`;
    return html`<div>
      <scute-number-field
        label="${name}, % ${sayBase(additive)}"
        .value=${percentOf(doseShare)}
        step="0.1"
        min="0"
        max="100"
        digits="4"
        hint=${[limits, ...this.sayWeighed(name)].join('; ')}
        @value=${(e: ValueEvent<number>) =>
          askEdit(this, setDose(this.coat, name, shareOfPercent(e.value)), e, `dose-${this.coat}-${name}`)}
      ></scute-number-field>
    </div>`;
  }

  private renderReinforcement(coat: CoatPlan, system: MaterialSystem) {
    const { reinforcement } = system;
    const share = reinforcementOf(coat, system);
    if (reinforcement === null || (share === 0 && coat.kind !== 'reinforced')) return nothing;
    const { leastShare, mostShare } = reinforcement;
    return html`<div>
      <scute-number-field
        label="${reinforcement.name}, % on the mix"
        .value=${percentOf(share)}
        step="0.5"
        min="0"
        max="500"
        digits="4"
        hint=${[
          `${percentOf(leastShare)} to ${sayPercent(mostShare)}`,
          ...(coat.reinforcementShare === null ? ['as usual'] : []),
          ...this.sayWeighed(reinforcement.name),
        ].join('; ')}
        @value=${(e: ValueEvent<number>) =>
          askEdit(
            this,
            setReinforcementShare(this.coat, shareOfPercent(e.value)),
            e,
            `reinforcement-${this.coat}`,
          )}
      ></scute-number-field>
    </div>`;
  }

  /** What the dose comes to on the scale, in the first batch that is still to be mixed: the others are as large or smaller. */
  private sayWeighed(item: string): string[] {
    const batches = (this.session.answer?.result.batches ?? []).filter(
      (batch) => batch.coatNumber === this.coat && batch.componentsG[item] !== undefined,
    );
    const batch = batches.find((one) => one.loggedG === null) ?? batches[0];
    return batch ? [`${sayWeighing(batch.componentsG[item])}\u00a0g a batch`] : [];
  }

  private renderRest(coat: CoatPlan, system: MaterialSystem) {
    const { plan, answer } = this.session;
    const work = answer?.result.coatWork.find((one) => one.coat === this.coat);
    const waitMin = coat.waitMin ?? work?.times.partialCureMin ?? null;
    const known = new Map(
      [...builtInSystems('shell'), ...this.kept, ...plan.otherMaterials].map((one) => [one.id, one]),
    );
    known.delete(plan.material.id);
    const said = [
      ...(coat.systemId === null ? [] : [system.name]),
      ...(work ? [`lay in ${sayMinutes(work.times.workingMin)}`] : []),
      ...(waitMin === null ? [] : [`wait ${sayMinutes(waitMin)}`]),
    ];
    return html`<details class="group">
      <summary><span>Times, system</span><span class="said">${said.join(', ')}</span></summary>
      <div class="inside fields">
        <label class="wide">
          <span class="small soft">Mixed from</span>
          <select
            aria-label="${coat.name} is mixed from"
            @change=${(e: Event) => {
              const id = (e.target as HTMLSelectElement).value;
              askEdit(this, setCoatSystem(this.coat, id === OWN ? null : (known.get(id) ?? null)));
            }}
          >
            <option value=${OWN} .selected=${coat.systemId === null}>the mould's own: ${plan.material.name}</option>
            ${[...known.values()].map(
              (one) =>
                html`<option value=${one.id} .selected=${one.id === coat.systemId}>${one.name}</option>`,
            )}
          </select>
        </label>
        <scute-optional-number
          class="wide"
          label="Wait before the next coat"
          unit="min"
          placeholder=${work ? `by the system: ${Math.round(work.times.partialCureMin)}` : 'by the system'}
          hint="Your own word; leave it empty to go by the system's cure."
          .value=${coat.waitMin}
          max="100000"
          @value=${(e: ValueEvent<number | null>) => askEdit(this, setCoatWait(this.coat, e.value))}
        ></scute-optional-number>
      </div>
    </details>`;
  }
}
