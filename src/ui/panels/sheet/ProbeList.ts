import { html } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { ProbeResult } from '../../../core/PlanResult.ts';
import { formatLength } from '../../../core/units.ts';
import { addProbe, removeProbe } from '../../../session/logActions.ts';
import type { PlanEdit, SessionState } from '../../../session/SessionStore.ts';
import { PlanEditEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { LateElement } from '../../parts/LateElement.ts';
import type { SortColumn, SortRow } from '../../parts/SortRow.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/LengthField.ts';
import '../../parts/SortTable.ts';

/** A kept measurement nearer to a point than this was taken there, mm: as exactly as a pin is put back. */
const SAME_POINT_MM = 0.5;

const COLUMNS: readonly SortColumn[] = [
  { key: 'point', title: 'Point' },
  { key: 'piece', title: 'Piece', align: 'start' },
  { key: 'predicted', title: 'Predicted' },
  { key: 'measured', title: 'Measured' },
];

/** The numbered points for the pin, the thinnest of each piece first: predicted thickness, and what was measured with so many coats on. */
@customElement('scute-probes')
export class ProbeList extends LateElement {
  static override styles = [sharedStyles, panelStyles];

  @property({ attribute: false }) session!: SessionState;
  /** Chosen by hand; null: as many as the log says are on. */
  @state() private chosenCoats: number | null = null;

  override render() {
    const { answer, plan } = this.session;
    const probes = answer?.result.probes ?? [];
    if (probes.length === 0) return html`<p class="note">The points come with the answer.</p>`;
    const coatsOn = this.coatsOn;
    return html`
      <p class="soft">
        Put the pin in where the sheet's pictures have these numbers, the thinnest of each piece first. Predicted is with
        all coats on.
      </p>
      <div class="stack">
        <scute-choice
          label="Coats on when measured"
          .options=${plan.coats.map((_, i) => ({ value: String(i + 1), text: String(i + 1) }))}
          .value=${String(coatsOn)}
          @value=${(e: ValueEvent<string>) => {
            this.chosenCoats = Number(e.value);
          }}
        ></scute-choice>
      </div>
      <scute-table
        caption="Points for the pin, with ${coatsOn} of the coats on"
        .columns=${COLUMNS}
        .rows=${probes.map((probe) => this.rowOf(probe, coatsOn))}
      ></scute-table>
    `;
  }

  /** The number of coats that the user says, else of those that the log has begun, else all. */
  private get coatsOn(): number {
    const { answer, plan } = this.session;
    const begun = (answer?.result.coatWork ?? []).filter(({ laidG, isDone }) => laidG > 0 || isDone);
    const logged = begun.reduce((most, { coat }) => Math.max(most, coat + 1), 0);
    return Math.min(this.chosenCoats ?? (logged || plan.coats.length), plan.coats.length);
  }

  private rowOf(probe: ProbeResult, coatsOn: number): SortRow {
    const { answer, plan, prefs } = this.session;
    const { number, piece, predictedMm } = probe;
    const index = answer?.result.pieces.findIndex(({ id }) => id === piece) ?? -1;
    const isThin = predictedMm < plan.leastThicknessMm;
    const kept = this.keptAt(probe, coatsOn);
    const measuredMm = kept === null ? null : plan.log.probes[kept].thicknessMm;
    return {
      key: String(number),
      cells: {
        point: { text: String(number), value: number, tone: 'strong' },
        piece: { text: answer?.result.pieces[index]?.name ?? piece },
        predicted: {
          text: formatLength(predictedMm, prefs.units),
          under: isThin ? ['thin'] : [],
          value: predictedMm,
          ...(isThin ? { tone: 'warn' } : {}),
        },
        measured: {
          text: measuredMm === null ? '' : formatLength(measuredMm, prefs.units),
          value: measuredMm,
          view: this.renderField(probe, coatsOn, kept, measuredMm),
        },
      },
    };
  }

  private renderField(
    { number, pointMm }: ProbeResult,
    coatsOn: number,
    kept: number | null,
    measuredMm: number | null,
  ) {
    return html`<scute-length-field
      class="typed"
      bare
      optional
      label="Measured at point ${number} with ${coatsOn} on"
      placeholder="not yet"
      .mm=${measuredMm}
      .system=${this.session.prefs.units}
      max="500"
      @value=${(e: ValueEvent<number | null>) =>
        this.edit(
          e.value !== null
            ? addProbe({ pointMm, thicknessMm: e.value, coatsOn })
            : kept === null
              ? (unchanged) => unchanged
              : removeProbe(kept),
        )}
    ></scute-length-field>`;
  }

  /** Place in the log's list of what was measured at the point; null when nothing was. */
  private keptAt({ pointMm }: ProbeResult, coatsOn: number): number | null {
    const at = this.session.plan.log.probes.findIndex(
      (kept) =>
        kept.coatsOn === coatsOn &&
        Math.hypot(kept.pointMm[0] - pointMm[0], kept.pointMm[1] - pointMm[1], kept.pointMm[2] - pointMm[2]) <
          SAME_POINT_MM,
    );
    return at < 0 ? null : at;
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }
}
