import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { LengthUnit, UpAxis } from '../../core/plan/PlanDocument.ts';
import { formatLength, formatMass, formatVolume } from '../../core/units.ts';
import { LENGTH_UNITS, UP_AXES } from '../../session/planChoices.ts';
import { isStale, type PlanEdit, type SessionState } from '../../session/SessionStore.ts';
import {
  changeKeepClear,
  levelCropMm,
  removeKeepClear,
  setBoard,
  setCrumbShare,
  setFillHoles,
  setLevelCrop,
  setRubberThickness,
  setScale,
  setScanIs,
  setTilt,
  setTrueLength,
  setTurn,
  setUnit,
  setUpAxis,
} from '../../session/scanActions.ts';
import type { DrafterState } from '../control/LineDrafter.ts';
import { CommandEvent, PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { removeIcon } from '../icons.ts';
import { sayBound } from '../sayAmounts.ts';
import { sayBothLengths, saySize } from '../sayLengths.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { unitNow } from '../unitNow.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/ChoiceField.ts';
import '../fields/LengthField.ts';
import '../fields/NumberField.ts';
import '../fields/TextField.ts';
import './scan/FoundList.ts';

/** First guess for a cut above the board, mm, when the cut is switched on: a table's unevenness. Own choice. */
const FIRST_CROP_MM = 5;

/** Stage 1: what the scan is, what was found and mended, and how it stands on its board. */
@customElement('scute-scan-panel')
export class ScanPanel extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .fields.low {
        align-items: end;
      }
      .clear {
        display: grid;
        grid-template-columns: minmax(0, 1fr) 104px var(--target);
        gap: 8px;
        align-items: end;
        margin-top: 12px;
      }
      .clear button {
        padding: 0;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) drafter!: DrafterState;
  @property({ attribute: false }) measuredMm: number | null = null;

  @state() private trueMm: number | null = null;

  override render() {
    const { scan, plan, answer } = this.session;
    return html`
      <h2>Scan</h2>
      <p class="lead">Open a scan of the finished rubber, or drop the file anywhere on the page.</p>
      <div class="row">
        <button class="primary" @click=${() => this.ask({ do: 'pick-file' })}>Open a scan or plan</button>
        <button @click=${() => this.ask({ do: 'save-plan' })} ?disabled=${!scan}>Save the plan</button>
        <button class="quiet" @click=${() => this.ask({ do: 'open-demo' })}>Open the demo</button>
      </div>
      ${
        scan
          ? html`
            <dl class="facts">
              <div>
                <dt>File</dt>
                <dd>${scan.name}</dd>
              </div>
              <div>
                <dt>Triangles</dt>
                <dd>${scan.opened.triangles.toLocaleString('en').replaceAll(',', '\u202f')}</dd>
              </div>
              ${
                answer
                  ? html`<div>
                    <dt>Size</dt>
                    <dd>${saySize(answer.result.scan.sizeMm, this.session.prefs.units)}</dd>
                  </div>`
                  : nothing
              }
            </dl>
            ${this.renderUnit()} ${this.renderStanding()} ${this.renderKind()} ${this.renderClear()} <scute-found-list .session=${this.session}></scute-found-list>
          `
          : html`<p class="note">No scan is open.</p>`
      }
      ${plan.job.shop ? nothing : html`<p class="small soft after">Job and shop are named on the sheet, stage 5.</p>`}
    `;
  }

  private renderUnit() {
    const { plan, answer } = this.session;
    const height = answer?.result.rubber.heightMm ?? null;
    const options = [{ value: 'auto', text: 'guess' }, ...LENGTH_UNITS.map((u) => ({ value: u, text: u }))];
    return html`
      <h3>Unit</h3>
      <scute-choice
        label="Unit of the file"
        bare
        .options=${options}
        .value=${plan.scan.unit}
        @value=${(e: ValueEvent<string>) => this.edit(setUnit(e.value as LengthUnit | 'auto', unitNow(answer)))}
      ></scute-choice>
      ${
        height === null
          ? nothing
          : html`<p class="note">
            ${plan.scan.unit === 'auto' ? `Taken as ${answer?.result.scan.unit}. Is it` : 'It is now'}
            ${sayBothLengths(height)} tall${plan.scan.unit === 'auto' ? '?' : '.'}
          </p>`
      }
      ${
        height === null
          ? nothing
          : html`<div class="fields low" ?inert=${isStale(this.session)}>
            <scute-length-field
              label="Height above the board"
              .mm=${height}
              .system=${this.session.prefs.units}
              @value=${(e: ValueEvent<number>) =>
                this.edit(
                  setTrueLength(height, e.value, unitNow(answer)),
                  e.isGesture ? 'scan-height' : null,
                )}
            ></scute-length-field>
            <scute-number-field
              label="Factor on the unit"
              .value=${plan.scan.scale}
              digits="4"
              step="0.01"
              min="0.000001"
              max="1000000"
              @value=${(e: ValueEvent<number>) =>
                this.edit(setScale(e.value, unitNow(answer)), e.isGesture ? 'scan-factor' : null)}
            ></scute-number-field>
          </div>`
      }
      ${this.renderMeasure()}
    `;
  }

  private renderMeasure() {
    const units = this.session.prefs.units;
    if (this.drafter.mode !== 'measure') {
      return html`<div class="row actions">
        <button @click=${() => this.ask({ do: 'measure-start' })} ?disabled=${!this.session.answer}>
          Set by a true distance
        </button>
      </div>`;
    }
    const measured = this.measuredMm;
    return html`
      <p class="note">Click two points on the rubber whose distance you have measured.</p>
      ${
        measured === null
          ? html`<p class="small soft">${this.drafter.points.length} of 2 points set.</p>`
          : html`<div class="fields">
            <div>
              <div class="small soft">Between them now</div>
              ${formatLength(measured, units)}
            </div>
            <scute-length-field
              label="True distance"
              .mm=${this.trueMm ?? measured}
              .system=${units}
              @value=${(e: ValueEvent<number>) => {
                this.trueMm = e.value;
              }}
            ></scute-length-field>
          </div>`
      }
      <div class="row actions">
        <button
          class="primary"
          ?disabled=${measured === null}
          @click=${() => this.takeMeasure(measured)}
        >
          Take it
        </button>
        <button @click=${() => this.ask({ do: 'measure-cancel' })}>Cancel</button>
      </div>
    `;
  }

  private takeMeasure(measured: number | null): void {
    if (measured === null) return;
    this.ask({ do: 'measure-take', trueMm: this.trueMm ?? measured });
    this.trueMm = null;
  }

  private renderStanding() {
    const { plan, prefs } = this.session;
    const { scan } = plan;
    const up = [
      { value: 'auto', text: 'find' },
      ...UP_AXES.map((axis) => ({ value: axis, text: axis.replace('-', '\u2212') })),
    ];
    const boardKind = typeof scan.board === 'number' ? 'height' : scan.board;
    const crop = levelCropMm(scan);
    return html`
      <h3>Standing</h3>
      <div class="stack">
        <scute-choice
          label="Axis that points up"
          .options=${up}
          .value=${scan.up}
          @value=${(e: ValueEvent<string>) => this.edit(setUpAxis(e.value as UpAxis | 'auto'))}
        ></scute-choice>
      </div>
      <div class="fields">
        <scute-number-field
          class="wide"
          label="Turn, seen from above"
          unit="degrees"
          .value=${scan.turnDeg}
          step="5"
          digits="1"
          min="-360"
          max="360"
          @value=${(e: ValueEvent<number>) => this.edit(setTurn(e.value))}
        ></scute-number-field>
        <scute-number-field
          label="Tilt about x"
          unit="degrees"
          .value=${scan.tiltDeg[0]}
          step="0.5"
          digits="2"
          min="-90"
          max="90"
          @value=${(e: ValueEvent<number>) => this.edit(setTilt(0, e.value))}
        ></scute-number-field>
        <scute-number-field
          label="Tilt about y"
          unit="degrees"
          .value=${scan.tiltDeg[1]}
          step="0.5"
          digits="2"
          min="-90"
          max="90"
          @value=${(e: ValueEvent<number>) => this.edit(setTilt(1, e.value))}
        ></scute-number-field>
      </div>
      <div class="stack">
        <scute-choice
          label="Board"
          .options=${[
            { value: 'auto', text: 'find' },
            { value: 'height', text: 'at a height' },
            { value: 'none', text: 'none' },
          ]}
          .value=${boardKind}
          @value=${(e: ValueEvent<string>) =>
            this.edit(setBoard(e.value === 'height' ? 0 : (e.value as 'auto' | 'none')))}
        ></scute-choice>
        ${
          typeof scan.board === 'number'
            ? html`<scute-length-field
              label="Board's height in the scan"
              .mm=${scan.board}
              .system=${prefs.units}
              min="-100000"
              @value=${(e: ValueEvent<number>) => this.edit(setBoard(e.value))}
            ></scute-length-field>`
            : nothing
        }
        <label class="check">
          <input
            type="checkbox"
            .checked=${crop !== null}
            @change=${() => this.edit(setLevelCrop(crop === null ? FIRST_CROP_MM : null))}
          />
          Cut a table away
        </label>
        ${
          crop === null
            ? nothing
            : html`<scute-length-field
              label="Cut this high above the board"
              .mm=${crop}
              .system=${prefs.units}
              @value=${(e: ValueEvent<number>) => this.edit(setLevelCrop(e.value))}
            ></scute-length-field>`
        }
      </div>
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

  private renderKind() {
    const { plan, prefs } = this.session;
    return html`
      <h3>What was scanned</h3>
      <scute-choice
        label="What was scanned"
        bare
        .options=${[{ value: 'rubber', text: 'the rubber' }, { value: 'pattern', text: 'the bare pattern' }]}
        .value=${plan.scan.is}
        @value=${(e: ValueEvent<string>) => this.edit(setScanIs(e.value as 'rubber' | 'pattern'))}
      ></scute-choice>
      ${
        plan.scan.is === 'pattern'
          ? html`<div class="stack">
            <scute-length-field
              label="Rubber over it"
              .mm=${plan.scan.rubberMm}
              .system=${prefs.units}
              @value=${(e: ValueEvent<number>) => this.edit(setRubberThickness(e.value))}
            ></scute-length-field>
          </div>`
          : nothing
      }
      ${this.renderLayer()}
    `;
  }

  private renderClear() {
    const { plan, prefs, answer } = this.session;
    const isSetting = this.drafter.mode === 'clear';
    return html`
      <h3>Keep clear</h3>
      <p class="small soft">Key backs, the pour opening: spots that the shell leaves free.</p>
      ${plan.scan.keepClear.map(
        (area, i) => html`<div class="clear">
          <scute-text-field
            label="Area"
            .value=${area.name}
            @value=${(e: ValueEvent<string>) => this.edit(changeKeepClear(i, { name: e.value }))}
          ></scute-text-field>
          <scute-length-field
            label="Radius"
            .mm=${area.radiusMm}
            .system=${prefs.units}
            @value=${(e: ValueEvent<number>) =>
              this.edit(changeKeepClear(i, { radiusMm: e.value }), e.isGesture ? `clear-${i}` : null)}
          ></scute-length-field>
          <button
            class="quiet"
            aria-label="Remove ${area.name}"
            title="Remove the area"
            @click=${() => this.edit(removeKeepClear(i))}
          >
            ${removeIcon}
          </button>
        </div>`,
      )}
      ${isSetting ? html`<p class="note">Click the middle of the spot on the rubber.</p>` : nothing}
      <div class="row actions">
        ${
          isSetting
            ? html`<button @click=${() => this.ask({ do: 'clear-cancel' })}>Cancel</button>`
            : html`<button ?disabled=${!answer} @click=${() => this.ask({ do: 'clear-start' })}>
              Mark a spot
            </button>`
        }
      </div>
    `;
  }

  private renderLayer() {
    const layer = this.session.answer?.result.rubber.layer;
    if (!layer) return nothing;
    const { units } = this.session.prefs;
    return html`<dl class="facts">
      <div>
        <dt>Rubber to mix</dt>
        <dd>
          ${formatVolume(layer.volumeMm3, units)}, ${formatMass(layer.massG, units)}
          <div class="small soft">${sayBound(layer.volumeErrorMm3, layer.volumeMm3, 'volume', units)}</div>
        </dd>
      </div>
    </dl>`;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
