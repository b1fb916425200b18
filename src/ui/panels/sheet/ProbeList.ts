import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { ProbeResult } from '../../../core/PlanResult.ts';
import { formatLength } from '../../../core/units.ts';
import { addProbe, removeProbe } from '../../../session/logActions.ts';
import type { PlanEdit, SessionState } from '../../../session/SessionStore.ts';
import { PlanEditEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/LengthField.ts';

/** A kept measurement nearer to a point than this was taken there, mm: as exactly as a pin is put back. */
const SAME_POINT_MM = 0.5;

/** The numbered points for the pin, the thinnest of each piece first: predicted thickness, and what was measured with so many coats on. */
@customElement('scute-probes')
export class ProbeList extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      li {
        display: grid;
        grid-template-columns: minmax(0, 1fr) 132px;
        gap: 10px;
        align-items: center;
        border-bottom: 1px solid var(--line-soft);
        padding: 4px 0;
      }
      .point {
        display: grid;
        grid-template-columns: 34px minmax(0, 1fr);
        align-items: baseline;
        gap: 0 6px;
      }
      .number {
        font-weight: bold;
        font-size: 1.25rem;
      }
      .words {
        font-size: var(--size-small);
      }
      .thin {
        color: var(--accent);
        font-weight: bold;
      }
    `,
  ];

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
      <ol aria-label="Points for the pin">
        ${probes.map((probe) => this.renderProbe(probe, coatsOn))}
      </ol>
    `;
  }

  /** The number of coats that the user says, else of those that the log has begun, else all. */
  private get coatsOn(): number {
    const { answer, plan } = this.session;
    const begun = (answer?.result.coatWork ?? []).filter(({ laidG, isDone }) => laidG > 0 || isDone);
    const logged = begun.reduce((most, { coat }) => Math.max(most, coat + 1), 0);
    return Math.min(this.chosenCoats ?? (logged || plan.coats.length), plan.coats.length);
  }

  private renderProbe(probe: ProbeResult, coatsOn: number) {
    const { answer, plan, prefs } = this.session;
    const { number, piece, predictedMm, pointMm } = probe;
    const name = answer?.result.pieces.find(({ id }) => id === piece)?.name ?? piece;
    const isThin = predictedMm < plan.leastThicknessMm;
    const measured = this.keptAt(probe, coatsOn);
    return html`<li>
      <span class="point">
        <span class="number">${number}</span>
        <span class="words">
          ${name}, <span class=${isThin ? 'thin' : nothing}>${formatLength(predictedMm, prefs.units)}</span>
          predicted${isThin ? ', thin' : ''}
        </span>
      </span>
      <scute-length-field
        bare
        optional
        label="Measured at point ${number} with ${coatsOn} on"
        placeholder="measured"
        .mm=${measured === null ? null : plan.log.probes[measured].thicknessMm}
        .system=${prefs.units}
        max="500"
        @value=${(e: ValueEvent<number | null>) =>
          this.edit(
            e.value !== null
              ? addProbe({ pointMm, thicknessMm: e.value, coatsOn })
              : measured === null
                ? (unchanged) => unchanged
                : removeProbe(measured),
          )}
      ></scute-length-field>
    </li>`;
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
