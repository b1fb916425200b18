import { html, LitElement } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatLength } from '../../core/units.ts';
import { deepestLock } from '../../session/deepestLock.ts';
import { setPieceCount } from '../../session/partingActions.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import type { DrafterState } from '../control/LineDrafter.ts';
import type { CharterState } from '../control/PullCharter.ts';
import type { FinderState } from '../control/SuggestionFinder.ts';
import { PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/ChoiceField.ts';
import './AvoidList.ts';
import './FlangeFields.ts';
import './FoldSection.ts';
import './LineTools.ts';
import './PieceTable.ts';
import './PullChartView.ts';
import './PullList.ts';
import './SlideList.ts';
import './SpotList.ts';
import './SuggestionList.ts';
import '../parts/TermLine.ts';
import './UndercutPanel.ts';

/** Stage 2: where it parts, what locks, which way each piece pulls. */
@customElement('scute-parting-panel')
export class PartingPanel extends LitElement {
  static override styles = [sharedStyles, panelStyles];

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
      <scute-terms .words=${['shell', 'piece', 'parting line', 'pull', 'cap']}></scute-terms>
      ${this.renderLineTools('tools')} ${this.renderPieces()}
      <scute-section key="suggestions" label="Suggestions" note=${this.noteSuggestions()} .folded=${folded}>
        <scute-suggestions .session=${session} .finder=${this.finder}></scute-suggestions>
        <scute-avoid-list .session=${session} .isMarking=${this.isMarkingNotHere}></scute-avoid-list>
      </scute-section>
      <scute-section key="undercuts" label="Undercuts" note=${this.noteLocks()} .terms=${['undercut', 'lock', 'lock depth', 'give', 'filler', 'block-out']} .folded=${folded}>
        <scute-undercuts .session=${session}></scute-undercuts>
        <scute-spots .session=${session}></scute-spots>
      </scute-section>
      <scute-section key="pulls" label="Pulls" .terms=${['pull', 'draft']} .folded=${folded}>
        <scute-pull-chart .session=${session} .charter=${this.charter}></scute-pull-chart>
        <scute-pull-list .session=${session}></scute-pull-list>
      </scute-section>
      <scute-section key="slides" label="Sliding apart" .folded=${folded}>
        <scute-slides .session=${session} .slides=${this.slides}></scute-slides>
      </scute-section>
      <scute-section key="lines" label="Lines" note=${this.noteLines()} .terms=${['parting line', 'parting wall', 'shim']} .folded=${folded}>
        ${this.renderLineTools('list')}
      </scute-section>
      <scute-section key="flange" label="Flange" note=${this.noteFlange()} .terms=${['flange', 'fastener']} .folded=${folded}>
        <scute-flange .session=${session}></scute-flange>
      </scute-section>
    `;
  }

  private renderLineTools(show: 'tools' | 'list') {
    return html`<scute-line-tools
      show=${show}
      .session=${this.session}
      .drafter=${this.drafter}
      .canFinish=${this.canFinish}
    ></scute-line-tools>`;
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
    const pieces = answer?.result.pieces ?? [];
    if (answer?.result.partingLines.length === 0 || pieces.length === 0) return '';
    // Every line lies between two pieces.
    const sumOf = (key: 'lengthMm' | 'clearMm') =>
      pieces.reduce((sum, { flange }) => sum + flange[key], 0) / 2;
    const shim = `${formatLength(sumOf('lengthMm'), prefs.units)} of shim`;
    const clearMm = sumOf('clearMm');
    return clearMm > 0 ? `${shim}, ${formatLength(clearMm, prefs.units)} kept clear` : shim;
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

  private renderPieces() {
    const { plan } = this.session;
    const count = plan.parting.lines === 'auto' ? String(plan.parting.pieceCount) : '';
    return html`
      <scute-piece-table .session=${this.session}></scute-piece-table>
      <div class="stack">
        <scute-choice
          label=${count ? 'Number of pieces, by a first line' : 'Parted by your lines. A number brings a first line back.'}
          .options=${['1', '2', '3', '4'].map((n) => ({ value: n, text: n }))}
          .value=${count}
          @value=${(e: ValueEvent<string>) => this.edit(setPieceCount(Number(e.value)))}
        ></scute-choice>
      </div>
    `;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}
