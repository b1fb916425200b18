import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BatchResult } from '../../../core/PlanResult.ts';
import { formatMass } from '../../../core/units.ts';
import { sayMinutes } from '../../../report/sayClock.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { capital } from './capital.ts';
import { type BatchRun, type CoatBatches, groupBatches } from './groupBatches.ts';
import { letScroll } from './letScroll.ts';
import { mixStyles } from './mixStyles.ts';
import { sayWeighing, sayWeighingBeside } from './sayWeighing.ts';

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
    const count = coat.runs.reduce((sum, run) => sum + run.last - run.first + 1, 0);
    return html`<div class="coat">
      <div class="head">
        <span class="swatch coat-${coat.coatNumber % 6}"></span>
        <span class="name">${coat.name}</span>
        <span>${count === 1 ? '1 batch' : `${count} batches`}, ${formatMass(coat.mixedG, units)}</span>
        <span class="rest">${this.sayTime(batch)}</span>
      </div>
      <div class="box" role="region" aria-label="Weights of ${coat.name}, piece ${piece}">
        <table>
          <caption class="visually-hidden">
            Piece ${piece}, ${coat.name}: grams to weigh for each batch
          </caption>
          <thead>
            <tr>
              <th scope="col">Batch</th>
              ${coat.items.map((item) => html`<th scope="col">${capital(item)},\u00a0g</th>`)}
              <th scope="col">Mixed,\u00a0g</th>
            </tr>
          </thead>
          <tbody>
            ${coat.runs.map((run) => this.renderRun(run, coat.items))}
          </tbody>
        </table>
      </div>
      ${this.renderOrder(batch)}
    </div>`;
  }

  private renderRun(run: BatchRun, items: readonly string[]) {
    const { units } = this.session.prefs;
    const { batch } = run;
    const numbers = run.first === run.last ? `${run.first}` : `${run.first}\u2013${run.last}, each`;
    const beside = (g: number) => {
      const said = sayWeighingBeside(g, units);
      return said === '' ? nothing : html`<span class="bound">${said}</span>`;
    };
    return html`<tr>
      <th scope="row">
        ${numbers}${run.logged > 0 ? html`<span class="small soft">, done</span>` : nothing}
      </th>
      ${items.map((item) => {
        const g = batch.componentsG[item];
        return g === undefined
          ? html`<td class="weigh">\u2013</td>`
          : html`<td class="weigh">${sayWeighing(g)}${beside(g)}</td>`;
      })}
      <td class="sum">${sayWeighing(batch.mixedG)}${beside(batch.mixedG)}</td>
    </tr>`;
  }

  private sayTime({ layMin, mixMin, workingTimeMin }: BatchResult): string {
    return `mix ${sayMinutes(mixMin)}, lay ${sayMinutes(layMin)}, sets after ${sayMinutes(workingTimeMin)}`;
  }

  /** What goes in first, and what is to be said at a step; a plain order of two needs no line of its own when nothing is said. */
  private renderOrder({ steps }: BatchResult) {
    if (steps.length < 2) return nothing;
    const said = steps.map(({ item, say }) => (say === '' ? item : `${item} (${say})`));
    return html`<p class="order">Into the bucket: ${said.join(', then ')}.</p>`;
  }
}
