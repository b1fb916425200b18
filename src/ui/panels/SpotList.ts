import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { FillerResult, SpotResult } from '../../core/PlanResult.ts';
import { formatArea, formatLength, formatMass, formatVolume } from '../../core/units.ts';
import { isStale, type PlanEdit, type SessionState } from '../../session/SessionStore.ts';
import { emptySpot, fillAllSpots, fillSpot, takeFillerBack } from '../../session/undercutActions.ts';
import { CommandEvent, PlanEditEvent } from '../events.ts';
import type { SortColumn, SortRow } from '../parts/SortRow.ts';
import type { SortTable } from '../parts/SortTable.ts';
import { sayBound } from '../sayAmounts.ts';
import { saySpot } from '../saySpot.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../parts/SortTable.ts';

/** Spots shown before the rest is asked for. */
const FIRST_SPOTS = 6;

const COLUMNS: readonly SortColumn[] = [
  { key: 'spot', title: 'Spot' },
  { key: 'depth', title: 'Depth' },
  { key: 'area', title: 'Area' },
  { key: 'filler', title: 'Filler' },
];

/** The spots that lock, worst first: flown to, filled one by one or all at once, emptied again. */
@customElement('scute-spots')
export class SpotList extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
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
      .row.fill {
        margin-top: 14px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @state() private isWhole = false;

  override render() {
    const { answer } = this.session;
    if (!answer || answer.result.pieces.some((piece) => piece.undercut === null)) return nothing;
    const { pieces, filler } = answer.result;
    const spots = pieces
      .flatMap((piece) => piece.undercut?.spots ?? [])
      .toSorted((a, b) => b.maxDepthMm - a.maxDepthMm || b.fillerMm3 - a.fillerMm3);
    const count = pieces.reduce((sum, piece) => sum + (piece.undercut?.spotCount ?? 0), 0);
    const deep = spots.filter((spot) => !spot.isWithinGive).length;
    const shown = this.isWhole ? spots : spots.slice(0, FIRST_SPOTS);
    return html`
      ${
        spots.length === 0
          ? html`<p class="note">${filler ? 'Nothing locks beside the filler.' : 'Nothing locks. It comes straight off.'}</p>`
          : html`<h4>
                ${filler ? 'Spots that still lock' : 'Spots that lock'}
                <span class="soft">worst first, ${deep} beyond the give</span>
              </h4>
              ${this.renderTable('Spots that lock, worst first', shown, null)}
              ${
                spots.length > shown.length
                  ? html`<button class="quiet" @click=${() => this.showWhole()}>All ${spots.length} spots</button>`
                  : nothing
              }
              ${
                this.isWhole && count > spots.length
                  ? html`<p class="small soft">${count - spots.length} lesser ones are counted above, not listed.</p>`
                  : nothing
              }`
      }
      ${this.renderFill(deep)} ${filler ? this.renderFilled(filler) : nothing}
    `;
  }

  private renderTable(caption: string, spots: readonly SpotResult[], filled: FillerResult | null) {
    const canTick = this.canFill || filled !== null;
    return html`<scute-table
      caption=${caption}
      ?inert=${isStale(this.session)}
      .columns=${canTick ? [...COLUMNS, { key: 'fill', title: 'Fill' }] : COLUMNS}
      .rows=${spots.map((spot) => this.rowOf(spot, filled))}
    ></scute-table>`;
  }

  private rowOf(spot: SpotResult, filled: FillerResult | null): SortRow {
    const { units } = this.session.prefs;
    const { id, atMm, areaMm2, fillerG, fillerMm3, isWithinGive, maxDepthMm } = spot;
    const where = `${id}, ${saySpot(spot)}`;
    const tone = isWithinGive ? 'soft' : 'strong';
    return {
      key: where,
      cells: {
        spot: {
          text: where,
          tone,
          view: html`<button class="quiet row-name" title="Fly to it" @click=${() => this.ask({ do: 'fly-to', atMm })}>
            ${id} ${saySpot(spot)}
          </button>`,
        },
        depth: {
          text: formatLength(maxDepthMm, units),
          under: isWithinGive ? ['yields'] : [],
          value: maxDepthMm,
          tone,
        },
        area: { text: formatArea(areaMm2, units), value: areaMm2 },
        filler: {
          text: formatVolume(fillerMm3, units),
          under: [formatMass(fillerG, units)],
          value: fillerMm3,
        },
        fill: {
          text: filled === null ? 'no' : 'yes',
          view: html`<label class="check">
            <input
              type="checkbox"
              aria-label="Filler in ${where}"
              .checked=${filled !== null}
              @change=${() => this.edit(filled === null ? fillSpot(atMm) : emptySpot(atMm, placesOf(filled)))}
            />
          </label>`,
        },
      },
    };
  }

  /** Filler lies on the rubber: over a bare pattern there is none to lay it on yet. */
  private get canFill(): boolean {
    return this.session.plan.scan.is === 'rubber';
  }

  private renderFill(deep: number) {
    const { blockOut } = this.session.plan.parting;
    const hasAny = blockOut === 'all' || blockOut.length > 0;
    if (deep === 0 && !hasAny) return nothing;
    if (!this.canFill && !hasAny) {
      return html`<p class="small soft after">
        Filler is planned over a scan of the rubber; this one is of the bare pattern.
      </p>`;
    }
    return html`<div class="row fill">
      <button ?disabled=${blockOut === 'all' || deep === 0} @click=${() => this.edit(fillAllSpots())}>
        ${hasAny ? 'Fill the rest too' : 'Fill all beyond the give'}
      </button>
      ${
        hasAny
          ? html`<button @click=${() => this.edit(takeFillerBack())}>Take all filler back</button>`
          : nothing
      }
    </div>`;
  }

  private renderFilled(filler: FillerResult) {
    const { units } = this.session.prefs;
    return html`
      <h4>
        Filled
        <span class="soft"
          >${formatMass(filler.massG, units)}, ${formatVolume(filler.volumeMm3, units)}
          ${sayBound(filler.volumeErrorMm3, filler.volumeMm3, 'volume', units)}</span
        >
      </h4>
      ${this.renderTable('Filled spots', filler.spots, filler)}
      <p class="small soft after">
        Thickened rubber or clay; the shell is planned over it. Depth and place as they were on the bare rubber.
      </p>
    `;
  }

  /** The button that was pressed goes away, so that the keys would be lost: the first spot it brought takes them. */
  private showWhole(): void {
    this.isWhole = true;
    void this.updateComplete.then(async () => {
      const table = this.renderRoot.querySelector<SortTable>('scute-table');
      await table?.updateComplete;
      table?.renderRoot.querySelectorAll<HTMLElement>('button.row-name')[FIRST_SPOTS]?.focus();
    });
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}

const placesOf = ({ spots }: FillerResult): Vec3[] => spots.map(({ atMm }) => atMm);
