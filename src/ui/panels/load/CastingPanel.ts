import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { CastingResult, ScreeningResult } from '../../../core/PlanResult.ts';
import {
  formatForce,
  formatLength,
  formatMass,
  formatPressure,
  formatStress,
  formatWeight,
  type UnitSystem,
} from '../../../core/units.ts';
import { isLoadPending } from '../../../report/isLoadPending.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayHolding } from '../../../report/sayHolding.ts';
import {
  setAttitude,
  setCastWall,
  setPourDensity,
  setPourLevel,
  setRubberWall,
} from '../../../session/castingActions.ts';
import { isStale, type PlanEdit, type SessionState } from '../../../session/SessionStore.ts';
import { CommandEvent, PlanEditEvent } from '../../events.ts';
import { fieldStyles } from '../../fields/fieldStyles.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import type { SortColumn } from '../../parts/SortRow.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { mixStyles } from '../mix/mixStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { loadStyles } from './loadStyles.ts';
import { POUR_MATERIALS } from './pourMaterials.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/LengthField.ts';
import '../../fields/NumberField.ts';
import '../../parts/SortTable.ts';

const FORCE_COLUMNS: readonly SortColumn[] = [
  { key: 'piece', title: 'Piece' },
  { key: 'along', title: 'Along its pull' },
  { key: 'whole', title: 'In all' },
];

/** Value of the choice that stands for a density of the user's own. */
const OWN = 'own';

/** A first level and a first wall of a hollow cast, mm, to be changed at once. Own choices. */
const FIRST_LEVEL_SHARE = 0.5;
const FIRST_WALL_MM = 10;

const FORMULAS: Readonly<Record<ScreeningResult['formula'], string>> = {
  'flat-supported': 'Flat panel, edges free to turn: \u03b2 q b\u00b2 / t\u00b2 (Roark, Table 11.4, case 1a)',
  'flat-clamped': 'Flat panel, edges held: \u03b2\u2081 q b\u00b2 / t\u00b2 (Roark, Table 11.4, case 8a)',
  membrane: 'Round wall in tension: p r / t',
  flange: 'Flange as a cantilever: 6 q w / f\u00b2',
};

/** Whether the shell holds when the mould is filled: pressure, opening forces, fasteners, uplift, screening. Guidance, not design. */
@customElement('scute-casting-panel')
export class CastingPanel extends LitElement {
  static override styles = [
    sharedStyles,
    fieldStyles,
    panelStyles,
    mixStyles,
    loadStyles,
    css`
      td,
      th {
        padding-left: 8px;
      }
      td.from,
      td.formula {
        white-space: normal;
        text-align: left;
      }
      .formula b {
        display: block;
      }
      .screening li {
        border-bottom: 1px solid var(--line-soft);
        padding: 8px 0;
      }
      .screening .figures {
        display: flex;
        flex-wrap: wrap;
        gap: 2px 14px;
        font-weight: bold;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override render() {
    const { answer } = this.session;
    const casting = answer?.result.casting ?? null;
    return html`
      ${this.renderChoices()}
      ${
        !answer
          ? html`<p class="note">The load comes with the first answer.</p>`
          : casting
            ? this.renderLoad(casting)
            : isLoadPending(answer.result)
              ? html`<p class="note">The load is being worked out.</p>`
              : html`<p class="note">
                The scan does not say which way the fluid presses: it does not close over the board. Mend the scan, or
                set the board, to have the load worked out.
              </p>`
      }
    `;
  }

  private renderChoices() {
    const { plan, prefs, answer } = this.session;
    const { densityGPerCm3, attitude, levelMm, wallMm, rubberMm } = plan.casting;
    const known = POUR_MATERIALS.find((one) => one.densityGPerCm3 === densityGPerCm3);
    const heightMm = answer?.result.rubber.heightMm ?? null;
    return html`
      <div class="fields">
        <div>
          <label for="poured">Filled with</label>
          <select
            id="poured"
            @change=${(e: Event) => {
              const id = (e.target as HTMLSelectElement).value;
              const chosen = POUR_MATERIALS.find((one) => one.id === id);
              if (chosen) this.edit(setPourDensity(chosen.densityGPerCm3));
            }}
          >
            ${POUR_MATERIALS.map(
              ({ id, name }) => html`<option value=${id} .selected=${known?.id === id}>${name}</option>`,
            )}
            <option value=${OWN} .selected=${!known} ?disabled=${known !== undefined}>Something else</option>
          </select>
        </div>
        <scute-number-field
          label="Its density"
          unit="g/cm³"
          .value=${densityGPerCm3}
          min="0.05"
          max="12"
          step="0.05"
          @value=${(e: ValueEvent<number>) =>
            this.edit(setPourDensity(e.value), e.isGesture ? 'pour-density' : null)}
        ></scute-number-field>
        <p class="basis wide">${known ? `${known.name}: ${known.basis}` : 'your own figure'}.</p>
        <scute-choice
          class="wide"
          label="It stands for filling"
          .options=${[
            { value: 'foot-up', text: 'turned over, foot up' },
            { value: 'as-built', text: 'as built' },
          ]}
          .value=${attitude}
          @value=${(e: ValueEvent<string>) =>
            this.edit(setAttitude(e.value === 'as-built' ? 'as-built' : 'foot-up'))}
        ></scute-choice>
        <scute-choice
          label="Filled"
          .options=${[{ value: 'full', text: 'full' }, { value: 'to', text: 'to a height' }]}
          .value=${levelMm === 'full' ? 'full' : 'to'}
          @value=${(e: ValueEvent<string>) =>
            this.edit(
              setPourLevel(
                e.value === 'full' || heightMm === null ? 'full' : Math.round(heightMm * FIRST_LEVEL_SHARE),
              ),
            )}
        ></scute-choice>
        ${
          levelMm === 'full'
            ? html`<span></span>`
            : html`<scute-length-field
                label="Height of the fill"
                .mm=${levelMm}
                .system=${prefs.units}
                @value=${(e: ValueEvent<number>) =>
                  this.edit(setPourLevel(e.value), e.isGesture ? 'pour-level' : null)}
              ></scute-length-field>`
        }
        <scute-choice
          label="The cast is"
          .options=${[{ value: 'solid', text: 'solid' }, { value: 'hollow', text: 'hollow' }]}
          .value=${wallMm === null ? 'solid' : 'hollow'}
          @value=${(e: ValueEvent<string>) => this.edit(setCastWall(e.value === 'solid' ? null : FIRST_WALL_MM))}
        ></scute-choice>
        ${
          wallMm === null
            ? html`<span></span>`
            : html`<scute-length-field
                label="Wall of the cast"
                .mm=${wallMm}
                .system=${prefs.units}
                @value=${(e: ValueEvent<number>) =>
                  this.edit(setCastWall(e.value), e.isGesture ? 'cast-wall' : null)}
              ></scute-length-field>`
        }
        ${
          plan.scan.is === 'rubber'
            ? html`<scute-length-field
                class="wide"
                label="Thickness of the rubber, for its weight"
                .mm=${rubberMm}
                .system=${prefs.units}
                @value=${(e: ValueEvent<number>) =>
                  this.edit(setRubberWall(e.value), e.isGesture ? 'rubber-wall' : null)}
              ></scute-length-field>`
            : nothing
        }
      </div>
    `;
  }

  private renderLoad(casting: CastingResult) {
    const { answer, prefs } = this.session;
    const { units } = prefs;
    const isLifting = casting.upliftN > 0;
    const fact = (term: string, value: unknown, under: unknown = nothing) =>
      html`<div><dt>${term}</dt><dd>${value}${under === nothing ? nothing : html`<div class="under">${under}</div>`}</dd></div>`;
    const seam = casting.seam;
    return html`
      <div class=${isStale(this.session) ? 'stale' : nothing}>
        <dl class="facts">
          ${fact('Pressure at its lowest', formatPressure(casting.maxPressurePa, units), `${formatLength(casting.headMm, units)} of fill`)}
          ${fact('Opens a piece with', formatForce(casting.closingForceN, units), `at most, along its pull; as a weight of ${formatWeight(casting.closingForceN, units)}`)}
          ${
            casting.fasteners > 0
              ? fact(
                  'Fasteners',
                  String(casting.fasteners),
                  `the closest two ${formatLength(casting.fastenerSpacingMm, units)} apart; they stand closer where it presses more`,
                )
              : fact('Fasteners', 'none placed')
          }
          ${fact(
            isLifting ? 'Lifts off, unless held with' : 'Stays down',
            isLifting
              ? html`<span class="accent">${formatForce(casting.upliftN, units)}</span>`
              : `${formatForce(-casting.upliftN, units)} to spare`,
            sayHolding(casting, units),
          )}
          ${
            seam
              ? fact(
                  'Leaks first',
                  html`<button
                    @click=${() => this.dispatchEvent(new CommandEvent({ do: 'fly-to', atMm: seam.pointMm }))}
                  >
                    Show the lowest seam
                  </button>`,
                  `${formatPressure(seam.pressurePa, units)} on it`,
                )
              : nothing
          }
          ${casting.castG === null ? nothing : fact('The cast', formatMass(casting.castG, units))}
          ${casting.filledMouldG === null ? nothing : fact('The mould, filled', formatMass(casting.filledMouldG, units))}
        </dl>
        <h4>Opening force of each piece</h4>
        <scute-table
          caption="Opening force of each piece"
          .columns=${FORCE_COLUMNS}
          .rows=${casting.pieces.map(({ piece, openingN, forceN }) => {
            const wholeN = Math.hypot(forceN[0], forceN[1], forceN[2]);
            const along =
              openingN < 0 ? `pressed on, ${formatForce(-openingN, units)}` : formatForce(openingN, units);
            return {
              key: piece,
              cells: {
                piece: { text: this.nameOf(piece) },
                along: { text: along, value: openingN },
                whole: { text: formatForce(wholeN, units), value: wholeN },
              },
            };
          })}
        ></scute-table>
        <details class="group">
          <summary><span class="title">Is it thick enough?</span><span class="said">formulas to compare by</span></summary>
          <ul class="screening">
            ${casting.screening.map((row) => this.renderScreening(row))}
          </ul>
          <p class="small soft">
            Flat panels and arcs are not sculptures: a curved shell is stiffer, an edge, a hole or a thin ridge is
            weaker. Use them to compare thicknesses and flanges with each other, not to approve one.
          </p>
        </details>
        <details class="group">
          <summary><span class="title">How it is reckoned</span><span class="said">guidance, not a design</span></summary>
          <ul class="says">
            ${(units === 'us' ? casting.usSays : casting.says).map((line) => html`<li>${line}</li>`)}
          </ul>
        </details>
        ${(answer?.result.cautions ?? [])
          .filter(({ step }) => step === 'Casting')
          .map((caution) => html`<p class="problem">${readSaid(caution, 'text', units)}</p>`)}
      </div>
    `;
  }

  private renderScreening(row: ScreeningResult) {
    const { piece, formula, stressMPa, deflectionMm, reserve } = row;
    const { units } = this.session.prefs;
    return html`<li>
      <div>${this.nameOf(piece)}: ${FORMULAS[formula]}</div>
      <div class="figures">
        <span>${formatStress(stressMPa, units)}</span>
        ${deflectionMm === null ? nothing : html`<span>${sayBend(deflectionMm, units)}</span>`}
        <span>
          ${reserve === null ? 'no strength to compare with' : `strength over stress ${Number(reserve.toPrecision(2))}`}
        </span>
      </div>
      <div class="small soft">${readSaid(row, 'from', units)}</div>
    </li>`;
  }

  private nameOf(id: string): string {
    return this.session.answer?.result.pieces.find((piece) => piece.id === id)?.name ?? id;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}

/** How far a panel bends; what is less than can be written is said so. */
function sayBend(deflectionMm: number, units: UnitSystem): string {
  const said = formatLength(deflectionMm, units);
  return /[1-9]/.test(said) ? `bends ${said}` : 'bends less than can be measured';
}
