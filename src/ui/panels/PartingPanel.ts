import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatLength } from '../../core/units.ts';
import { deepestLock } from '../../session/deepestLock.ts';
import { removeLine, setPieceCount, suggestLines } from '../../session/partingActions.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import type { DrafterState } from '../control/LineDrafter.ts';
import type { CharterState } from '../control/PullCharter.ts';
import type { FinderState } from '../control/SuggestionFinder.ts';
import { CommandEvent, PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { removeIcon } from '../icons.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/ChoiceField.ts';
import './AvoidList.ts';
import './FlangeFields.ts';
import './FoldSection.ts';
import './PieceTable.ts';
import './PullChartView.ts';
import './PullList.ts';
import './SlideList.ts';
import './SpotList.ts';
import './SuggestionList.ts';
import './UndercutPanel.ts';

/** Stage 2: where it parts, what locks, which way each piece pulls. */
@customElement('scute-parting-panel')
export class PartingPanel extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
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
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) drafter!: DrafterState;
  @property({ attribute: false }) canFinish = false;
  @property({ attribute: false }) finder!: FinderState;
  @property({ attribute: false }) charter!: CharterState;
  @property({ attribute: false }) isMarkingNotHere = false;
  @property({ attribute: false }) slides: ReadonlyMap<number, number> = new Map();

  override render() {
    const { session } = this;
    const { folded } = session.prefs;
    return html`
      <h2>Parting</h2>
      <p class="lead">${this.lead()}</p>
      ${this.renderTools()} ${this.renderPieces()}
      <scute-section key="suggestions" label="Suggestions" note=${this.noteSuggestions()} .folded=${folded}>
        <scute-suggestions .session=${session} .finder=${this.finder}></scute-suggestions>
        <scute-avoid-list .session=${session} .isMarking=${this.isMarkingNotHere}></scute-avoid-list>
      </scute-section>
      <scute-section key="undercuts" label="Undercuts" note=${this.noteLocks()} .folded=${folded}>
        <scute-undercuts .session=${session}></scute-undercuts>
        <scute-spots .session=${session}></scute-spots>
      </scute-section>
      <scute-section key="pulls" label="Pulls" .folded=${folded}>
        <scute-pull-chart .session=${session} .charter=${this.charter}></scute-pull-chart>
        <scute-pull-list .session=${session}></scute-pull-list>
      </scute-section>
      <scute-section key="slides" label="Sliding apart" .folded=${folded}>
        <scute-slides .session=${session} .slides=${this.slides}></scute-slides>
      </scute-section>
      <scute-section key="lines" label="Lines" note=${this.noteLines()} .folded=${folded}>
        ${this.renderLines()}
      </scute-section>
      <scute-section key="flange" label="Flange" note=${this.noteFlange()} .folded=${folded}>
        <scute-flange .session=${session}></scute-flange>
      </scute-section>
    `;
  }

  private noteSuggestions(): string {
    const { job, suggestions } = this.finder;
    if (job) return 'searching';
    return suggestions.length > 0 ? `${suggestions.length} found` : '';
  }

  private noteLocks(): string {
    const { answer, prefs, plan } = this.session;
    const lock = answer ? deepestLock(answer.result) : null;
    if (!lock) return '';
    if (lock.depthMm === 0) return 'nothing locks';
    const depth = `${formatLength(lock.depthMm, prefs.units)} at ${lock.piece}`;
    return lock.depthMm > plan.parting.rubberGiveMm ? depth : `${depth}, the rubber yields`;
  }

  private noteLines(): string {
    const { answer, prefs } = this.session;
    const lines = answer?.result.partingLines ?? [];
    if (lines.length === 0) return '';
    return `${formatLength(
      lines.reduce((sum, line) => sum + line.lengthMm, 0),
      prefs.units,
    )} of shim`;
  }

  private noteFlange(): string {
    const { plan, prefs } = this.session;
    const { flange } = plan.parting;
    if (flange === null) return 'none';
    return `${formatLength(flange.widthMm, prefs.units)} \u00d7 ${formatLength(flange.thicknessMm, prefs.units)}`;
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

  private renderPieces() {
    const { plan } = this.session;
    const count = plan.parting.lines === 'auto' ? String(plan.parting.pieceCount) : '';
    return html`
      <scute-piece-table .session=${this.session}></scute-piece-table>
      <div class="stack">
        <scute-choice
          label=${count ? 'Pieces, by a first line' : 'Pieces, by your lines. A number brings a first line back.'}
          .options=${['1', '2', '3', '4'].map((n) => ({ value: n, text: n }))}
          .value=${count}
          @value=${(e: ValueEvent<string>) => this.edit(setPieceCount(Number(e.value)))}
        ></scute-choice>
      </div>
    `;
  }

  private renderLines() {
    const { answer, plan, prefs } = this.session;
    const lines = answer?.geometry.lines ?? [];
    if (!answer || lines.length === 0) return nothing;
    const isOwn = plan.parting.lines !== 'auto';
    const totalMm = answer.result.partingLines.reduce((sum, line) => sum + line.lengthMm, 0);
    return html`
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
