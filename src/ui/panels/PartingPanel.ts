import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PieceResult } from '../../core/PlanResult.ts';
import { formatArea, formatLength } from '../../core/units.ts';
import {
  describePiece,
  removeLine,
  setFlange,
  setPieceCount,
  setPullAzimuths,
  suggestLines,
  switchFlange,
} from '../../session/partingActions.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { azimuthDeg, isSteep, pullOfAzimuth, sayPull } from '../azimuth.ts';
import type { DrafterState } from '../control/LineDrafter.ts';
import { CommandEvent, PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { removeIcon } from '../icons.ts';
import { describePieces } from '../pieceSpots.ts';
import { massCell } from '../sayAmounts.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/ChoiceField.ts';
import '../fields/LengthField.ts';
import '../fields/NumberField.ts';
import '../fields/TextField.ts';
import './PullRose.ts';

/** Stage 2: pieces, their pulls, the lines between them and the flange along them. */
@customElement('scute-parting-panel')
export class PartingPanel extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .piece {
        display: grid;
        grid-template-columns: auto minmax(0, 1fr) 116px;
        gap: 10px;
        align-items: end;
        margin-top: 12px;
      }
      .piece .swatch {
        width: 20px;
        height: 20px;
        margin-bottom: 12px;
      }
      .line {
        display: flex;
        align-items: center;
        gap: 8px;
        border-bottom: 1px solid var(--line-soft);
      }
      .line button.pick {
        flex: 1;
        display: flex;
        justify-content: space-between;
        text-align: left;
        gap: 8px;
      }
      .pulls {
        display: flex;
        gap: 18px;
        align-items: center;
        flex-wrap: wrap;
      }
      .pulls .text {
        flex: 1 1 150px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) drafter!: DrafterState;
  @property({ attribute: false }) canFinish = false;

  override render() {
    return html`
      <h2>Parting</h2>
      <p class="lead">${this.lead()}</p>
      ${this.renderTools()} ${this.renderTable()} ${this.renderPulls()} ${this.renderLines()}
      ${this.renderFlange()}
    `;
  }

  private lead(): string {
    switch (this.drafter.mode) {
      case 'draw':
        return 'Click the rubber to set a point; the line keeps to the surface. Drag a point to move it.';
      case 'edit':
        return 'Drag a point to move it. Click the rubber to add one to the nearest line. By keys: space picks the point at the cross, M moves it there.';
      default:
        return 'Where the shell comes apart, and which way each piece pulls.';
    }
  }

  private renderTools() {
    const { mode, closed, points, problem, selected } = this.drafter;
    const hasAnswer = this.session.answer !== null;
    if (mode === 'draw') {
      return html`
        <label class="check">
          <input
            type="checkbox"
            .checked=${closed}
            @change=${(e: Event) =>
              this.ask({ do: 'draw-close', closed: (e.target as HTMLInputElement).checked })}
          />
          The line runs round and closes
        </label>
        ${problem ? html`<p class="note">Not yet a line: ${problem}</p>` : nothing}
        <div class="row actions">
          <button class="primary" ?disabled=${!this.canFinish} @click=${() => this.ask({ do: 'draw-finish' })}>
            Take the line
          </button>
          <button ?disabled=${points.length === 0} @click=${() => this.ask({ do: 'draw-back' })}>
            Back
          </button>
          <button @click=${() => this.ask({ do: 'draw-cancel' })}>Cancel</button>
        </div>
        ${
          this.session.plan.parting.lines === 'auto'
            ? html`<p class="small soft after">Your line takes the place of the suggested one.</p>`
            : nothing
        }
      `;
    }
    if (mode === 'edit') {
      return html`
        ${problem ? html`<p class="problem" role="alert">${problem}</p>` : nothing}
        <div class="row">
          <button class="primary" @click=${() => this.ask({ do: 'draw-cancel' })}>Done</button>
          <button
            ?disabled=${selected === null || selected.point === null}
            @click=${() => this.ask({ do: 'delete-point' })}
          >
            Delete the point
          </button>
        </div>
      `;
    }
    return html`
      <div class="row">
        <button class="primary" ?disabled=${!hasAnswer} @click=${() => this.ask({ do: 'draw-start' })}>
          Draw a line
        </button>
        <button
          ?disabled=${!hasAnswer || this.session.answer?.geometry.lines.length === 0}
          @click=${() => this.ask({ do: 'edit-lines' })}
        >
          Move points
        </button>
      </div>
    `;
  }

  private renderTable() {
    const { answer, prefs, plan } = this.session;
    const count = plan.parting.lines === 'auto' ? String(plan.parting.pieceCount) : '';
    return html`
      <div class="stack">
        <scute-choice
          label=${count ? 'Pieces, line suggested' : 'Pieces, by your lines. A number brings a suggested line back.'}
          .options=${['1', '2', '3', '4'].map((n) => ({ value: n, text: n }))}
          .value=${count}
          @value=${(e: ValueEvent<string>) => this.edit(setPieceCount(Number(e.value)))}
        ></scute-choice>
      </div>
      ${
        answer
          ? html`<table>
            <caption class="visually-hidden">
              Pieces with the area of rubber they cover and their weight
            </caption>
            <thead>
              <tr>
                <th scope="col">Piece</th>
                <th scope="col">Area</th>
                <th scope="col">Pulls</th>
                <th scope="col">Weight</th>
              </tr>
            </thead>
            <tbody>
              ${answer.result.pieces.map(
                (piece, i) => html`<tr>
                  <th scope="row">
                    <span class="name"><span class="swatch piece-${i % 6}"></span>${piece.name}</span>
                  </th>
                  <td>${formatArea(piece.areaMm2, prefs.units)}</td>
                  <td>${sayPull(piece.pull)}</td>
                  <td>${massCell(piece.massG, piece.massErrorG, prefs.units)}</td>
                </tr>`,
              )}
            </tbody>
          </table>`
          : html`<p class="note">The pieces come with the first answer.</p>`
      }
      <p class="small soft after">
        Undercuts are not worked out yet in this version. Look along each pull before you settle on it.
      </p>
    `;
  }

  private renderPulls() {
    const { answer, plan } = this.session;
    if (!answer || answer.result.pieces.length === 0) return nothing;
    const { pieces } = answer.result;
    const isAuto = plan.parting.lines === 'auto' && plan.parting.pullAzimuthsDeg === 'auto';
    return html`
      <h3>Names and pulls</h3>
      <div class="pulls">
        <scute-pull-rose .pieces=${pieces}></scute-pull-rose>
        <p class="text small soft">
          Seen from above, the front at the foot. Degrees run from the right (+x), counter-clockwise.
        </p>
      </div>
      ${pieces.map(
        (piece, i) => html`
          <div class="piece">
            <span class="swatch piece-${i % 6}"></span>
            <scute-text-field
              label="Piece"
              .value=${piece.name}
              @value=${(e: ValueEvent<string>) => this.describe(i, { name: e.value })}
            ></scute-text-field>
            <scute-number-field
              label="Pull"
              unit="degrees"
              .value=${isSteep(piece.pull) ? 0 : azimuthDeg(piece.pull)}
              step="5"
              digits="1"
              min="-360"
              max="720"
              @value=${(e: ValueEvent<number>) => this.setPull(i, e.value, pieces, e.isGesture)}
            ></scute-number-field>
          </div>
        `,
      )}
      ${
        isAuto
          ? nothing
          : html`<div class="row actions">
            <button @click=${() => this.edit(setPullAzimuths('auto'))} ?hidden=${plan.parting.lines !== 'auto'}>
              Choose the pulls for me
            </button>
          </div>`
      }
    `;
  }

  private setPull(index: number, deg: number, pieces: readonly PieceResult[], isGesture: boolean): void {
    const gesture = isGesture ? `pull-${index}` : null;
    const turned = ((deg % 360) + 360) % 360;
    if (this.session.plan.parting.lines !== 'auto') {
      this.describe(index, { pull: pullOfAzimuth(turned) }, gesture);
      return;
    }
    // Two pieces on a suggested line pull opposite ways, so one value says both and the line turns with it.
    if (pieces.length === 2) {
      const first = index === 0 ? turned : (turned + 180) % 360;
      this.edit(setPullAzimuths([first]), gesture);
      return;
    }
    this.edit(setPullAzimuths(pieces.map((p, i) => (i === index ? turned : azimuthDeg(p.pull)))), gesture);
  }

  private describe(
    index: number,
    change: { name?: string; pull?: readonly [number, number, number] },
    gesture: string | null = null,
  ): void {
    const { answer, plan } = this.session;
    if (!answer) return;
    const known = describePieces(answer.result, answer.geometry.pieces);
    // On suggested lines the pulls belong to the azimuths; only the names are the piece's own there.
    const anchors = plan.parting.lines === 'auto' ? known.map((p) => ({ ...p, pull: null })) : known;
    this.edit(describePiece(index, anchors, change), gesture);
  }

  private renderLines() {
    const { answer, plan, prefs } = this.session;
    const lines = answer?.geometry.lines ?? [];
    if (!answer || lines.length === 0) return nothing;
    const isOwn = plan.parting.lines !== 'auto';
    const totalMm = answer.result.partingLines.reduce((sum, line) => sum + line.lengthMm, 0);
    return html`
      <h3>Lines</h3>
      <ul>
        ${lines.map((line, i) => {
          const isPicked = this.drafter.selected?.line === i;
          const lengthMm = pathLengthMm(line.path);
          return html`<li class="line">
            <button
              class="quiet pick"
              aria-pressed=${isPicked ? 'true' : 'false'}
              @click=${() => this.ask({ do: 'select-line', line: isPicked ? null : i, point: null })}
            >
              <span>Line ${i + 1}, ${isOwn ? (line.closed ? 'runs round' : 'yours') : 'suggested'}</span>
              <span>${formatLength(lengthMm, prefs.units)}</span>
            </button>
            ${
              isOwn
                ? html`<button
                  class="quiet"
                  aria-label="Remove line ${i + 1}"
                  title="Remove the line"
                  @click=${() => this.edit(removeLine(i))}
                >
                  ${removeIcon}
                </button>`
                : nothing
            }
          </li>`;
        })}
      </ul>
      <dl class="facts">
        <div>
          <dt>Parting wall in all, for shims</dt>
          <dd>${formatLength(totalMm, prefs.units)}</dd>
        </div>
      </dl>
      ${
        isOwn
          ? html`<div class="row actions">
            <button @click=${() => this.edit(suggestLines(plan.parting.pieceCount))}>
              Back to the suggested line
            </button>
          </div>`
          : nothing
      }
    `;
  }

  private renderFlange() {
    const { plan, prefs } = this.session;
    const { flange } = plan.parting;
    return html`
      <h3>Flange</h3>
      <label class="check">
        <input
          type="checkbox"
          .checked=${flange !== null}
          @change=${() => this.edit(switchFlange())}
        />
        A flange along every line
      </label>
      ${
        flange === null
          ? html`<p class="small soft">Without one there is nothing to clamp or bolt.</p>`
          : html`<div class="fields">
            <scute-length-field
              label="Width, from the rubber"
              .mm=${flange.widthMm}
              .system=${prefs.units}
              @value=${(e: ValueEvent<number>) =>
                this.edit(setFlange({ ...flange, widthMm: e.value }), e.isGesture ? 'flange-width' : null)}
            ></scute-length-field>
            <scute-length-field
              label="Thickness, each side"
              .mm=${flange.thicknessMm}
              .system=${prefs.units}
              @value=${(e: ValueEvent<number>) =>
                this.edit(
                  setFlange({ ...flange, thicknessMm: e.value }),
                  e.isGesture ? 'flange-thickness' : null,
                )}
            ></scute-length-field>
          </div>`
      }
    `;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}

function pathLengthMm(path: Float32Array): number {
  let sum = 0;
  for (let i = 3; i + 2 < path.length; i += 3) {
    sum += Math.hypot(path[i] - path[i - 3], path[i + 1] - path[i - 2], path[i + 2] - path[i - 1]);
  }
  return sum;
}
