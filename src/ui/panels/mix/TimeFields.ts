import { html, nothing } from 'lit';
import { customElement } from 'lit/decorators.js';
import { moveEarlier, setMixing, setTimes } from '../../../session/materialActions.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { upIcon } from '../../icons.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { basisHint, basisLines } from './basisLines.ts';
import { mixStyles } from './mixStyles.ts';
import { SystemPart } from './SystemPart.ts';
import '../../fields/NumberField.ts';
import '../../fields/OptionalNumberField.ts';

const TIMES = [
  ['workingMin', 'Working time'],
  ['partialCureMin', 'Partial cure: the next coat may go on'],
  ['fullCureMin', 'Full cure: shims out'],
] as const;

/** How long a system without additives takes, and how it is mixed. */
@customElement('scute-time-fields')
export class TimeFields extends SystemPart {
  static override styles = [sharedStyles, panelStyles, mixStyles];

  override render() {
    const system = this.edited;
    const { times, mixing, reinforcement } = system;
    return html`<details class="group">
      <summary>
        <span class="title">Times and mixing</span>
        <span class="said"
          >${times.workingMin} min to lay, cures ${times.partialCureMin} and ${times.fullCureMin} min</span
        >
      </summary>
      <div class="inside">
        <div class="fields">
          ${TIMES.map(
            ([key, label]) => html`<scute-number-field
              label=${label}
              unit="min"
              .value=${times[key]}
              hint=${basisHint(system, `times.${key}`)}
              min="0.1"
              max="100000"
              @value=${(e: ValueEvent<number>) => this.change(setTimes({ [key]: e.value }), e, `times-${key}`)}
            ></scute-number-field>`,
          )}
          <scute-optional-number
            label="Next coat on by"
            unit="min"
            placeholder="no limit known"
            .value=${times.latestOvercoatMin}
            hint=${times.latestOvercoatMin === null ? '' : basisHint(system, 'times.latestOvercoatMin')}
            max="100000"
            @value=${(e: ValueEvent<number | null>) => this.change(setTimes({ latestOvercoatMin: e.value }))}
          ></scute-optional-number>
          <scute-number-field
            label="Mixing takes"
            unit="min"
            .value=${mixing.mixMin}
            hint=${basisHint(system, 'mixing.mixMin')}
            min="0"
            max="1000"
            @value=${(e: ValueEvent<number>) => this.change(setMixing({ mixMin: e.value }), e, 'mixing-min')}
          ></scute-number-field>
          ${
            reinforcement?.form === 'chopped'
              ? html`<scute-optional-number
                label="Stir the ${reinforcement.name} no longer than"
                unit="s"
                placeholder="no limit"
                .value=${mixing.reinforcementMixS}
                hint=${mixing.reinforcementMixS === null ? '' : basisHint(system, 'mixing.reinforcementMixS')}
                max="36000"
                @value=${(e: ValueEvent<number | null>) =>
                  this.change(setMixing({ reinforcementMixS: e.value }))}
              ></scute-optional-number>`
              : nothing
          }
        </div>
        <h4>Into the bucket, in this order</h4>
        <ol>
          ${mixing.order.map(
            (name, i) => html`<li class="row">
              <button
                class="quiet"
                aria-label="${name} goes in earlier"
                title="Earlier"
                ?disabled=${i === 0}
                @click=${() => this.change(moveEarlier(name))}
              >
                ${upIcon}
              </button>
              <span>${i + 1}. ${name}</span>
            </li>`,
          )}
          ${reinforcement ? html`<li class="small soft">Then the ${reinforcement.name}, last.</li>` : nothing}
        </ol>
        ${this.refusal ? html`<p class="problem" role="alert">${this.refusal}</p>` : nothing}
        ${basisLines(system, [
          ['times.workingMin', 'working time'],
          ['times.partialCureMin', 'partial cure'],
          ['times.fullCureMin', 'full cure'],
          ...(times.latestOvercoatMin === null
            ? []
            : ([['times.latestOvercoatMin', 'next coat on by']] as const)),
          ['mixing.mixMin', 'mixing'],
          ...(mixing.reinforcementMixS === null
            ? []
            : ([['mixing.reinforcementMixS', 'stirring the reinforcement']] as const)),
          ['mixing.order', 'order'],
        ])}
      </div>
    </details>`;
  }
}
