import { css, html, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { BatchResult } from '../../../core/PlanResult.ts';
import { formatMass } from '../../../core/units.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayMinutes } from '../../../report/sayClock.ts';
import { sayFlangeShare } from '../../../report/sayFlangeShare.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { LateElement } from '../../parts/LateElement.ts';
import type { SortCell, SortColumn, SortRow } from '../../parts/SortRow.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { capital } from './capital.ts';
import { type BatchRun, type CoatBatches, groupBatches } from './groupBatches.ts';
import { mixStyles } from './mixStyles.ts';
import { sayWeighing, sayWeighingBeside } from './sayWeighing.ts';
import '../../parts/SortTable.ts';

/** More parts than this do not stand beside each other in the panel; they are listed, if the columns of batches are few. */
const ITEMS_ACROSS = 3;
const RUNS_ACROSS = 3;

/** What to weigh out, batch by batch: piece by piece, coat by coat, in grams as the scale shows them. */
@customElement('scute-batch-table')
export class BatchTable extends LateElement {
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
      .order {
        margin-top: 6px;
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

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
    const { plan, answer, prefs } = this.session;
    const { units } = prefs;
    const { batch } = coat.runs[0];
    const owner = answer?.result.pieces.find(({ id }) => id === batch.piece);
    const flange = sayFlangeShare(plan, owner, coat.coatNumber, units);
    const isDown = coat.items.length > ITEMS_ACROSS && coat.runs.length <= RUNS_ACROSS;
    const count = coat.runs.reduce((sum, run) => sum + run.last - run.first + 1, 0);
    return html`<div class="coat">
      <div class="head">
        <span class="swatch coat-${coat.coatNumber % 6}"></span>
        <span class="name">${coat.name}</span>
        <span>${count === 1 ? '1 batch' : `${count} batches`}, ${formatMass(coat.mixedG, units)}${flange === '' ? '' : `; ${flange}`}</span>
        <span class="rest">${this.sayTime(batch)}</span>
      </div>
      ${isDown ? this.renderDown(piece, coat) : this.renderAcross(piece, coat)}
      ${this.renderOrder(batch)}
    </div>`;
  }

  /** A batch a line, a part a column. */
  private renderAcross(piece: string, coat: CoatBatches) {
    const columns = [
      { key: 'batch', title: 'Batch' },
      ...coat.items.map((item) => ({ key: `part ${item}`, title: `${capital(item)},\u00a0g` })),
      { key: 'mixed', title: 'Mixed,\u00a0g' },
    ];
    const rows = coat.runs.map((run) => ({
      key: String(run.first),
      cells: {
        batch: { text: sayNumbers(run), value: run.first },
        ...Object.fromEntries(coat.items.map((item) => [`part ${item}`, this.weightOf(run, item)])),
        mixed: this.gramsOf(run.batch.mixedG),
      },
    }));
    return this.renderTable(piece, coat, columns, rows);
  }

  /** A part a line, in the order it goes into the bucket, and a batch a column. */
  private renderDown(piece: string, coat: CoatBatches) {
    const columns = [
      { key: 'part', title: 'Weigh, g' },
      ...coat.runs.map((run) => ({ key: `run ${run.first}`, title: `Batch ${sayNumbers(run)}` })),
    ];
    const across = (cellOf: (run: BatchRun) => SortCell) =>
      Object.fromEntries(coat.runs.map((run) => [`run ${run.first}`, cellOf(run)]));
    const rows = coat.items.map((item) => ({
      key: item,
      cells: { part: { text: capital(item) }, ...across((run) => this.weightOf(run, item)) },
    }));
    const sum = {
      key: 'mixed',
      cells: { part: { text: 'Mixed' }, ...across((run) => this.gramsOf(run.batch.mixedG)) },
    };
    return this.renderTable(piece, coat, columns, rows, [sum]);
  }

  private renderTable(
    piece: string,
    coat: CoatBatches,
    columns: readonly SortColumn[],
    rows: readonly SortRow[],
    totals: readonly SortRow[] = [],
  ) {
    return html`<scute-table
      caption="Piece ${piece}, ${coat.name}: grams to weigh for each batch"
      .columns=${columns}
      .rows=${rows}
      .totals=${totals}
    ></scute-table>`;
  }

  private weightOf({ batch }: BatchRun, item: string): SortCell {
    const g = batch.componentsG[item];
    return g === undefined ? { text: '\u2013', value: null } : { ...this.gramsOf(g), tone: 'strong' };
  }

  private gramsOf(g: number): SortCell {
    const beside = sayWeighingBeside(g, this.session.prefs.units);
    return { text: sayWeighing(g), under: beside === '' ? [] : [beside], value: g };
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

/** "3", "2\u20134, each"; those that are on the wall already say so. */
function sayNumbers({ first, last, logged }: BatchRun): string {
  const numbers = first === last ? `${first}` : `${first}\u2013${last}, each`;
  return logged > 0 ? `${numbers}, done` : numbers;
}
