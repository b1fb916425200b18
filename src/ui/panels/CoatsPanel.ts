import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { MaterialSystem } from '../../core/material/MaterialSystem.ts';
import type { CoatKind, CoatPlan } from '../../core/plan/PlanDocument.ts';
import { formatLength } from '../../core/units.ts';
import {
  addCoat,
  moveCoat,
  removeCoat,
  scaleCoatsTo,
  setCoatKind,
  setCoatName,
  setCoatThickness,
  setResolution,
  totalThicknessMm,
} from '../../session/coatActions.ts';
import { COAT_KINDS } from '../../session/planChoices.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { CommandEvent, PlanEditEvent, PrefsEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { downIcon, removeIcon, upIcon } from '../icons.ts';
import type { SortColumn, SortRow } from '../parts/SortRow.ts';
import { massCell, volumeCell } from '../sayAmounts.ts';
import { sayPiece } from '../sayPiece.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { sumCoats } from '../sumCoats.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/ChoiceField.ts';
import '../fields/LengthField.ts';
import '../fields/TextField.ts';
import '../parts/SortTable.ts';
import '../parts/TermLine.ts';
import './coats/ThinSpots.ts';
import './mix/CoatRecipe.ts';

const AMOUNT_COLUMNS: readonly SortColumn[] = [
  { key: 'coat', title: 'Coat' },
  { key: 'volume', title: 'Volume' },
  { key: 'mass', title: 'Mass' },
];

/** The slider's range, mm: thinner is paint, thicker is typed. */
const SLIDER_MIN_MM = 0.5;
const SLIDER_MAX_MM = 15;

/** Stage 3: the coats from the rubber outward, and what each holds. */
@customElement('scute-coats-panel')
export class CoatsPanel extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .coat {
        display: grid;
        grid-template-columns: 26px minmax(0, 1fr) 104px var(--target);
        gap: 6px 8px;
        align-items: start;
        padding: 12px 0;
        border-bottom: 1px solid var(--line-soft);
      }
      .number {
        margin-top: 9px;
        width: 26px;
        height: 26px;
        display: grid;
        place-items: center;
        border: 1px solid var(--line);
        font-size: var(--size-small);
        color: var(--on-coat);
      }
      .number.coat-4 {
        color: var(--on-coat-deep);
      }
      .second {
        grid-column: 2 / 5;
        display: grid;
        grid-template-columns: 128px minmax(0, 1fr) var(--target) var(--target);
        gap: 4px;
        align-items: center;
      }
      .second input {
        margin: 0 6px;
        width: auto;
      }
      .second button {
        padding: 0;
      }
      scute-coat-recipe {
        grid-column: 2 / 5;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  /** The user's own systems that were kept. */
  @property({ attribute: false }) kept: readonly MaterialSystem[] = [];
  /** Index of the piece whose coats are tabled; -1: all pieces together. */
  @state() private piece = -1;

  override render() {
    const { plan, prefs } = this.session;
    return html`
      <h2>Coats</h2>
      <p class="lead">From the rubber outward. Type a thickness in either unit, or drag it.</p>
      <scute-terms
        .words=${['coat', 'face', 'build', 'reinforced', 'finish', 'levelled', 'thin spot', 'probe', 'bound']}
      ></scute-terms>
      <div class="stack">
        <scute-length-field
          label="All coats together"
          hint="Another value makes every coat thicker or thinner alike."
          .mm=${totalThicknessMm(plan.coats)}
          .system=${prefs.units}
          max="500"
          @value=${(e: ValueEvent<number>) => this.edit(scaleCoatsTo(e.value), e.isGesture ? 'all-coats' : null)}
        ></scute-length-field>
      </div>
      <ol>
        ${plan.coats.map((coat, i) => this.renderCoat(coat, i))}
      </ol>
      <div class="row actions">
        <button @click=${() => this.edit(addCoat())}>Add a coat</button>
        <button
          aria-pressed=${prefs.isSectionOn ? 'true' : 'false'}
          @click=${() => this.dispatchEvent(new PrefsEvent({ isSectionOn: !prefs.isSectionOn }))}
        >
          Cut the mould open
        </button>
      </div>
      ${this.renderTable()} <scute-thin-spots .session=${this.session}></scute-thin-spots> ${this.renderSteps()}
    `;
  }

  private renderCoat(coat: CoatPlan, i: number) {
    const { plan, prefs } = this.session;
    const gesture = `coat-${i}-thickness`;
    return html`
      <li class="coat">
        <span class="number coat-${i % 6}" aria-hidden="true">${i + 1}</span>
        <scute-text-field
          bare
          label="Name of coat ${i + 1}"
          .value=${coat.name}
          @value=${(e: ValueEvent<string>) => this.edit(setCoatName(i, e.value))}
        ></scute-text-field>
        <scute-length-field
          bare
          label="Thickness of ${coat.name}"
          .mm=${coat.thicknessMm}
          .system=${prefs.units}
          max="200"
          @value=${(e: ValueEvent<number>) =>
            this.edit(setCoatThickness(i, e.value), e.isGesture ? gesture : null)}
        ></scute-length-field>
        <button
          class="quiet"
          aria-label="Remove ${coat.name}"
          title="Remove the coat"
          ?disabled=${plan.coats.length === 1}
          @click=${() => this.edit(removeCoat(i))}
        >
          ${removeIcon}
        </button>
        <div class="second">
        <select
          aria-label="Kind of ${coat.name}"
          @change=${(e: Event) =>
            this.edit(setCoatKind(i, (e.target as HTMLSelectElement).value as CoatKind))}
        >
          ${COAT_KINDS.map(
            (kind) => html`<option value=${kind} .selected=${kind === coat.kind}>${kind}</option>`,
          )}
        </select>
        <input
          type="range"
          aria-label="Thickness of ${coat.name}, by dragging"
          min=${SLIDER_MIN_MM}
          max=${SLIDER_MAX_MM}
          step="0.1"
          .value=${String(coat.thicknessMm)}
          aria-valuetext=${formatLength(coat.thicknessMm, prefs.units)}
          @input=${(e: Event) =>
            this.edit(setCoatThickness(i, Number((e.target as HTMLInputElement).value)), gesture)}
          @change=${() => this.dispatchEvent(new CommandEvent({ do: 'gesture-end' }))}
        />
          <button
            class="quiet"
            aria-label="Move ${coat.name} toward the rubber"
            title="Toward the rubber"
            ?disabled=${i === 0}
            @click=${() => this.edit(moveCoat(i, -1))}
          >
            ${upIcon}
          </button>
          <button
            class="quiet"
            aria-label="Move ${coat.name} outward"
            title="Outward"
            ?disabled=${i === plan.coats.length - 1}
            @click=${() => this.edit(moveCoat(i, 1))}
          >
            ${downIcon}
          </button>
        </div>
        <scute-coat-recipe .session=${this.session} .coat=${i} .kept=${this.kept}></scute-coat-recipe>
      </li>
    `;
  }

  private renderTable() {
    const { answer, prefs } = this.session;
    if (!answer) return html`<p class="note">The amounts come with the first answer.</p>`;
    const { pieces } = answer.result;
    const shown = pieces[this.piece];
    const rows = shown ? [...shown.coats] : sumCoats(answer.result);
    const flange = shown ? [shown.flange] : pieces.map((p) => p.flange);
    const flangeMm3 = flange.reduce((sum, f) => sum + f.volumeMm3, 0);
    const flangeErrorMm3 = flange.reduce((sum, f) => sum + f.volumeErrorMm3, 0);
    const flangeG = flange.reduce((sum, f) => sum + f.massG, 0);
    const total = shown ?? answer.result.shell;
    const amounts: SortRow[] = rows.map((coat, i) => ({
      key: String(i),
      swatch: `coat-${i % 6}`,
      cells: {
        coat: { text: coat.name, value: i },
        volume: volumeCell(coat.volumeMm3, coat.volumeErrorMm3, prefs.units),
        mass: massCell(coat.massG, coat.massErrorG, prefs.units),
      },
    }));
    if (flangeMm3 > 0) {
      amounts.push({
        key: 'flange',
        cells: {
          coat: { text: 'Flange', value: rows.length },
          volume: volumeCell(flangeMm3, flangeErrorMm3, prefs.units),
          mass: massCell(flangeG, (flangeG * flangeErrorMm3) / flangeMm3, prefs.units),
        },
      });
    }
    return html`
      <h3>What each coat holds</h3>
      <scute-choice
        bare
        label="Pieces shown"
        .options=${[
          { value: '-1', text: 'all' },
          ...pieces.map((p, i) => ({ value: String(i), text: p.name })),
        ]}
        .value=${String(shown ? this.piece : -1)}
        @value=${(e: ValueEvent<string>) => {
          this.piece = Number(e.value);
        }}
      ></scute-choice>
      <scute-table
        caption="Volume and mass of each coat, with bounds${shown ? `, piece ${sayPiece(shown)}` : ''}"
        .columns=${AMOUNT_COLUMNS}
        .rows=${amounts}
        .totals=${[
          {
            key: 'together',
            cells: {
              coat: { text: 'Together' },
              volume: volumeCell(total.volumeMm3, total.volumeErrorMm3, prefs.units),
              mass: massCell(total.massG, total.massErrorG, prefs.units),
            },
          },
        ]}
      ></scute-table>
      <p class="small soft">
        The bounds are of the working-out on this scan. A coat laid by hand strays further.
      </p>
    `;
  }

  private renderSteps() {
    const { plan, prefs, answer } = this.session;
    const { resolutionMm } = plan;
    return html`
      <h3>Fineness</h3>
      <label class="check">
        <input
          type="checkbox"
          .checked=${resolutionMm === 'auto'}
          @change=${() =>
            this.edit(setResolution(resolutionMm === 'auto' ? (answer?.result.resolutionMm ?? 1) : 'auto'))}
        />
        Choose the steps of the working-out for me
      </label>
      ${
        resolutionMm === 'auto'
          ? nothing
          : html`<scute-length-field
            label="Steps"
            hint="Finer steps take longer and tighten the bound."
            .mm=${resolutionMm}
            .system=${prefs.units}
            max="50"
            @value=${(e: ValueEvent<number>) => this.edit(setResolution(e.value), e.isGesture ? 'steps' : null)}
          ></scute-length-field>`
      }
    `;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}
