import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PieceResult, PlanResult, ThinResult, ThinSpotResult } from '../../../core/PlanResult.ts';
import { formatArea, formatLength, formatMass, formatVolume } from '../../../core/units.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { sayRidgeMass } from '../../../report/sayRidgeMass.ts';
import { saySpotPlace } from '../../../report/saySpotPlace.ts';
import { setLeastThickness, setTrowelRadius } from '../../../session/coatActions.ts';
import type { PlanEdit, SessionState } from '../../../session/SessionStore.ts';
import { CommandEvent, PlanEditEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/LengthField.ts';

type KnownPiece = Pick<PieceResult, 'id' | 'name'> & { readonly thin: ThinResult };

/** Where the shell comes out too thin, what levels it, and the extra coat that mends it. */
@customElement('scute-thin-spots')
export class ThinSpots extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .model {
        border-left: 3px solid var(--line);
        padding-left: 10px;
      }
      h4 {
        margin: 18px 0 4px;
        font-size: var(--size-body);
        font-weight: normal;
        display: flex;
        justify-content: space-between;
        gap: 10px;
        border-bottom: 1px solid var(--line);
        padding-bottom: 6px;
      }
      h4 .soft {
        font-size: var(--size-small);
        align-self: end;
      }
      li {
        border-bottom: 1px solid var(--line-soft);
      }
      button.show {
        display: grid;
        grid-template-columns: 44px minmax(0, 1fr) auto;
        gap: 0 8px;
        width: 100%;
        min-height: var(--target);
        text-align: left;
        padding: 8px 0;
        align-items: baseline;
      }
      .id,
      .least {
        font-weight: bold;
        white-space: nowrap;
      }
      .more {
        grid-column: 2 / 4;
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
      .old {
        color: var(--ink-soft);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  /** Of the last answer that had them: shown, in soft ink, while the new ones are worked out. */
  private known: readonly KnownPiece[] = [];
  private knownScan = '';

  override willUpdate(): void {
    const { answer, plan } = this.session;
    const pieces = knownPieces(answer?.result);
    if (pieces.length > 0) {
      this.known = pieces;
      this.knownScan = plan.scan.file;
    } else if (!answer || this.knownScan !== plan.scan.file) this.known = [];
  }

  override render() {
    const { plan, prefs } = this.session;
    const last = plan.coats[plan.coats.length - 1];
    return html`
      <h3>Thin spots</h3>
      <div class="fields">
        <scute-length-field
          label="Least thickness that will do"
          .mm=${plan.leastThicknessMm}
          .system=${prefs.units}
          max="200"
          @value=${(e: ValueEvent<number>) =>
            this.edit(setLeastThickness(e.value), e.isGesture ? 'least-thickness' : null)}
        ></scute-length-field>
        <scute-length-field
          optional
          label="Radius of the trowel"
          placeholder="not levelled"
          .mm=${plan.trowelRadiusMm}
          .system=${prefs.units}
          max="1000"
          @value=${(e: ValueEvent<number | null>) =>
            this.edit(setTrowelRadius(e.value), e.isGesture ? 'trowel-radius' : null)}
        ></scute-length-field>
      </div>
      ${
        last.kind === 'finish'
          ? html`<p class="small soft after">
              The finish fills hollows that are too tight for this trowel. Emptied, the last coat stays as brushed.
            </p>`
          : html`<p class="small soft after">
              The last coat, ${last.name}, is no finish, so nothing is levelled.
            </p>`
      }
      ${this.renderPieces()}
    `;
  }

  private renderPieces() {
    const { answer } = this.session;
    if (this.known.length === 0) {
      return html`<p class="note">${answer ? 'Thin spots are being worked out.' : 'Thin spots come with the first answer.'}</p>`;
    }
    const isOld = knownPieces(answer?.result).length === 0;
    return html`
      <div class=${isOld ? 'old' : ''} aria-busy=${isOld ? 'true' : 'false'}>
        ${this.known.map((piece) => this.renderPiece(piece))}
      </div>
      ${isOld ? html`<p class="small soft" role="status">Of the plan before; the new ones are being worked out.</p>` : nothing}
      <p class="small soft after model">
        Model, not yet calibrated: coats spread evenly by
        weight${this.known[0].thin.levelledByMm === null ? '' : ', the finish levelled'}. A ridge draws thin, a hollow
        fills. Probe the shell itself.
      </p>
    `;
  }

  private renderPiece({ name, thin }: KnownPiece) {
    const { units } = this.session.prefs;
    const { spots, spotCount, rest, ridgeCoat, levelling } = thin;
    return html`
      <h4>${name} <span class="soft">thinnest ${formatLength(thin.minMm, units)}</span></h4>
      ${
        spotCount === 0
          ? html`<p class="small">Nothing below the least.</p>`
          : html`
            <p class="small">
              ${formatArea(thin.areaBelowMm2, units)} below the least, in ${spotCount} ${spotCount === 1 ? 'spot' : 'spots'}.
            </p>
            <ol aria-label="Thin spots of ${name}, the one that lacks most first">
              ${spots.map((spot) => this.renderSpot(spot))}
            </ol>
            ${
              spotCount > spots.length
                ? html`<p class="small soft">
                  ${spotCount - spots.length} smaller ones together: ${formatArea(rest.areaMm2, units)},
                  ridge coat ${sayRidgeMass(rest.massG, units)}.
                </p>`
                : nothing
            }
            ${ridgeCoat ? html`<p class="small">${readSaid(ridgeCoat, 'text', units)}</p>` : nothing}
          `
      }
      ${
        levelling && levelling.massG > 0
          ? html`<p class="small soft">
            Levelling fills about ${formatVolume(levelling.volumeMm3, units)} of hollows, ${formatMass(levelling.massG, units)}
            of mix. It is not in the totals.
          </p>`
          : nothing
      }
    `;
  }

  private renderSpot(spot: ThinSpotResult) {
    const { units } = this.session.prefs;
    const where = saySpotPlace(spot, units);
    const least = formatLength(spot.minMm, units);
    return html`<li>
      <button
        class="quiet show"
        title="Show it on the mould"
        aria-label="Show ${spot.id}, ${where}, thinnest ${least}"
        @click=${() => this.dispatchEvent(new CommandEvent({ do: 'fly-to', atMm: spot.pointMm }))}
      >
        <span class="id">${spot.id}</span>
        <span>${where}</span>
        <span class="least">${least}</span>
        <span class="more">
          ${formatArea(spot.areaMm2, units)}; ridge coat ${sayRidgeMass(spot.massG, units)}, up to
          ${formatLength(spot.mostLackMm, units)} laid
        </span>
      </button>
    </li>`;
  }

  private edit(edit: PlanEdit, gesture: string | null = null): void {
    this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }
}

function knownPieces(result: PlanResult | undefined): KnownPiece[] {
  return (result?.pieces ?? []).flatMap(({ id, name, thin }) => (thin ? [{ id, name, thin }] : []));
}
