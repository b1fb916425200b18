import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BatchResult } from '../../../core/PlanResult.ts';
import { formatMass } from '../../../core/units.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayMinutes } from '../../../report/sayClock.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { capital } from './capital.ts';
import { type BatchRun, type CoatBatches, groupBatches } from './groupBatches.ts';
import { letScroll } from './letScroll.ts';
import { mixStyles } from './mixStyles.ts';
import { sayWeighing, sayWeighingBeside } from './sayWeighing.ts';

/** More parts than this do not stand beside each other in the panel; they are listed, if the columns of batches are few. */
const ITEMS_ACROSS = 3;
const RUNS_ACROSS = 3;

/** What to weigh out, batch by batch: piece by piece, coat by coat, in grams as the scale shows them. */
@customElement('scute-batch-table')
export class BatchTable extends LitElement {
  static override styles = [
    sharedStyles,
    mixStyles,
    css`
      .stale {
        color: var(--ink-soft);
      }
      h4 {
        padding-top: 12px;
        border-top: 1px solid var(--line);
      }
      .coat {
        padding: 12px 0 10px;
        border-bottom: 1px solid var(--line-soft);
      }
      .head {
        display: flex;
        align-items: baseline;
        gap: 8px;
        flex-wrap: wrap;
      }
      .head .name {
        font-weight: bold;
      }
      .head .rest {
        margin-left: auto;
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
      table {
        width: auto;
        min-width: 100%;
      }
      table.down {
        min-width: min(100%, 340px);
      }
      thead th {
        padding-top: 6px;
      }
      tbody th,
      tbody td {
        border-bottom: none;
        padding-top: 4px;
        padding-bottom: 2px;
      }
      tbody td.weigh {
        font-size: 1.25rem;
        font-weight: bold;
        padding-left: 10px;
      }
      tbody td.sum {
        padding-left: 10px;
      }
      tbody th {
        white-space: nowrap;
      }
      .order {
        margin-top: 6px;
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  override updated(): void {
    letScroll(this.renderRoot.querySelectorAll<HTMLElement>('.box'));
  }

  override render() {
    const { answer } = this.session;
    if (!answer) return html`<p class="note">The batches come with the first answer.</p>`;
    if (answer.result.batches.length === 0) return html`<p class="note">There is nothing to mix.</p>`;
    return html`<div class=${isStale(this.session) ? 'stale' : ''}>
      ${groupBatches(answer.result).map(
        (piece) => html`<h4>Piece ${piece.name}</h4>
          ${piece.coats.map((coat) => this.renderCoat(piece.name, coat))}`,
      )}
    </div>`;
  }

  private renderCoat(piece: string, coat: CoatBatches) {
    const { units } = this.session.prefs;
    const { batch } = coat.runs[0];
    const isDown = coat.items.length > ITEMS_ACROSS && coat.runs.length <= RUNS_ACROSS;
    const count = coat.runs.reduce((sum, run) => sum + run.last - run.first + 1, 0);
    return html`<div class="coat">
      <div class="head">
        <span class="swatch coat-${coat.coatNumber % 6}"></span>
        <span class="name">${coat.name}</span>
        <span>${count === 1 ? '1 batch' : `${count} batches`}, ${formatMass(coat.mixedG, units)}</span>
        <span class="rest">${this.sayTime(batch)}</span>
      </div>
      <div class="box" role="region" aria-label="Weights of ${coat.name}, piece ${piece}">
        <table class=${isDown ? 'down' : nothing}>
          <caption class="visually-hidden">
            Piece ${piece}, ${coat.name}: grams to weigh for each batch
          </caption>
          ${isDown ? this.renderDown(coat) : this.renderAcross(coat)}
        </table>
      </div>
      ${this.renderOrder(batch)}
    </div>`;
  }

  /** A batch a line, a part a column. */
  private renderAcross({ items, runs }: CoatBatches) {
    return html`
      <thead>
        <tr>
          <th scope="col">Batch</th>
          ${items.map((item) => html`<th scope="col">${capital(item)},\u00a0g</th>`)}
          <th scope="col">Mixed,\u00a0g</th>
        </tr>
      </thead>
      <tbody>
        ${runs.map(
          (run) => html`<tr>
            <th scope="row">${this.sayNumbers(run)}</th>
            ${items.map((item) => this.renderWeight(run, item))}
            <td class="sum">${this.renderGrams(run.batch.mixedG)}</td>
          </tr>`,
        )}
      </tbody>
    `;
  }

  /** A part a line, in the order it goes into the bucket, and a batch a column. */
  private renderDown({ items, runs }: CoatBatches) {
    return html`
      <thead>
        <tr>
          <th scope="col">Weigh, g</th>
          ${runs.map((run) => html`<th scope="col">Batch ${this.sayNumbers(run)}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${items.map(
          (item) => html`<tr>
            <th scope="row">${capital(item)}</th>
            ${runs.map((run) => this.renderWeight(run, item))}
          </tr>`,
        )}
        <tr>
          <th scope="row">Mixed</th>
          ${runs.map((run) => html`<td class="sum">${this.renderGrams(run.batch.mixedG)}</td>`)}
        </tr>
      </tbody>
    `;
  }

  private sayNumbers({ first, last, logged }: BatchRun) {
    const numbers = first === last ? `${first}` : `${first}\u2013${last}, each`;
    return html`${numbers}${logged > 0 ? html`<span class="small soft">, done</span>` : nothing}`;
  }

  private renderWeight({ batch }: BatchRun, item: string) {
    const g = batch.componentsG[item];
    return html`<td class="weigh">${g === undefined ? '\u2013' : this.renderGrams(g)}</td>`;
  }

  private renderGrams(g: number) {
    const beside = sayWeighingBeside(g, this.session.prefs.units);
    return html`${sayWeighing(g)}${beside === '' ? nothing : html`<span class="bound">${beside}</span>`}`;
  }

  private sayTime({ layMin, mixMin, workingTimeMin }: BatchResult): string {
    return `mix ${sayMinutes(mixMin)}, lay ${sayMinutes(layMin)}, sets after ${sayMinutes(workingTimeMin)}`;
  }

  /** What goes in first, and what is to be said at a step; a plain order of two needs no line of its own when nothing is said. */
  private renderOrder({ steps }: BatchResult) {
    if (steps.length < 2) return nothing;
    const said = steps.map((step) => {
      const say = readSaid(step, 'say', this.session.prefs.units);
      return say === '' ? step.item : `${step.item} (${say})`;
    });
    return html`<p class="order">Into the bucket: ${said.join(', then ')}.</p>`;
  }
}
