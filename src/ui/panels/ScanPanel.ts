import { html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { groupDigits } from '../../core/units.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import type { DrafterState } from '../control/LineDrafter.ts';
import type { PainterState } from '../control/Painter.ts';
import type { StanderState } from '../control/Stander.ts';
import { type Command, CommandEvent } from '../events.ts';
import { saySize } from '../sayLengths.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import './scan/BoardFields.ts';
import './scan/ClearFields.ts';
import './scan/CropFields.ts';
import './scan/FoundList.ts';
import './scan/KindFields.ts';
import './scan/MeasureFields.ts';
import './scan/StandFields.ts';
import '../parts/TermLine.ts';
import './scan/UnitFields.ts';

/** Stage 1: what the scan is, how it stands on its board, what does not belong to it, what was found and mended. */
@customElement('scute-scan-panel')
export class ScanPanel extends LitElement {
  static override styles = [sharedStyles, panelStyles];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) painter!: PainterState;
  @property({ attribute: false }) stander!: StanderState;
  @property({ attribute: false }) drafter!: DrafterState;
  @property({ attribute: false }) measuredMm: number | null = null;

  override render() {
    const { scan, plan } = this.session;
    return html`
      <h2>Scan</h2>
      <p class="lead">Open a scan of the finished rubber, or drop the file anywhere on the page.</p>
      <scute-terms .words=${['rubber', 'pattern', 'board', 'keep clear', 'key']}></scute-terms>
      <div class="row">
        <button class="primary" @click=${() => this.ask({ do: 'pick-file' })}>Open a scan or plan</button>
        <button @click=${() => this.ask({ do: 'save-bundle' })} ?disabled=${!scan}>Save the plan</button>
        <button class="quiet" @click=${() => this.ask({ do: 'open-demo' })}>Open the demo</button>
      </div>
      ${scan ? this.renderScan() : html`<p class="note">No scan is open.</p>`}
      ${plan.job.shop ? nothing : html`<p class="small soft after">Job and shop are named on the sheet, stage 5.</p>`}
    `;
  }

  private renderScan() {
    const { session, stander, drafter } = this;
    const { scan, answer, prefs } = session;
    return html`
      <dl class="facts">
        <div>
          <dt>File</dt>
          <dd>${scan?.name}</dd>
        </div>
        <div>
          <dt>Triangles</dt>
          <dd>${scan ? groupDigits(String(scan.opened.triangles)) : nothing}</dd>
        </div>
        ${
          answer
            ? html`<div>
              <dt>Size</dt>
              <dd>${saySize(answer.result.scan.sizeMm, prefs.units)}</dd>
            </div>`
            : nothing
        }
      </dl>
      <scute-unit-fields .session=${session}></scute-unit-fields>
      <scute-measure-fields
        .session=${session}
        .drafter=${drafter}
        .measuredMm=${this.measuredMm}
      ></scute-measure-fields>
      <scute-stand-fields .session=${session} .stander=${stander}></scute-stand-fields>
      <scute-board-fields .session=${session} .stander=${stander}></scute-board-fields>
      <scute-crop-fields .session=${session} .stander=${stander}></scute-crop-fields>
      <scute-kind-fields .session=${session}></scute-kind-fields>
      <scute-clear-fields .session=${session} .painter=${this.painter}></scute-clear-fields>
      <scute-found-list .session=${session}></scute-found-list>
    `;
  }

  private ask(command: Command): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
