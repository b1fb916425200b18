import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { FillerResult, SpotResult } from '../../core/PlanResult.ts';
import { formatArea, formatLength, formatMass, formatVolume } from '../../core/units.ts';
import { isStale, type PlanEdit, type SessionState } from '../../session/SessionStore.ts';
import { emptySpot, fillAllSpots, fillSpot, takeFillerBack } from '../../session/undercutActions.ts';
import { CommandEvent, PlanEditEvent } from '../events.ts';
import { sayBound } from '../sayAmounts.ts';
import { saySpot } from '../saySpot.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';

/** Spots shown before the rest is asked for. */
const FIRST_SPOTS = 6;

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
      li {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        align-items: center;
        gap: 6px;
        border-bottom: 1px solid var(--line-soft);
      }
      button.fly {
        display: grid;
        grid-template-columns: 40px minmax(0, 1fr) auto;
        gap: 0 8px;
        text-align: left;
        padding: 8px 6px 8px 0;
        align-items: baseline;
      }
      .id {
        font-weight: bold;
      }
      .depth {
        font-weight: bold;
        white-space: nowrap;
      }
      li.yields .depth,
      li.yields .id {
        font-weight: normal;
        color: var(--ink-soft);
      }
      .more {
        grid-column: 2 / -1;
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
      label.check {
        font-size: var(--size-small);
        color: var(--ink-soft);
        gap: 6px;
        padding-left: 6px;
        border-left: 1px solid var(--line-soft);
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
    const isOld = isStale(this.session);
    return html`
      ${
        spots.length === 0
          ? html`<p class="note">${filler ? 'Nothing locks beside the filler.' : 'Nothing locks. It comes straight off.'}</p>`
          : html`<h4>
                ${filler ? 'Spots that still lock' : 'Spots that lock'}
                <span class="soft">worst first, ${deep} beyond the give</span>
              </h4>
              <ul aria-label="Spots that lock, worst first" ?inert=${isOld}>
                ${shown.map((spot) => this.renderSpot(spot, null))}
              </ul>
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

  private renderSpot(spot: SpotResult, filled: FillerResult | null) {
    const { units } = this.session.prefs;
    const where = `${spot.id}, ${saySpot(spot)}`;
    const spotG = spot.fillerG;
    return html`<li class=${spot.isWithinGive ? 'yields' : ''}>
      <button
        class="quiet fly"
        title="Fly to it"
        @click=${() => this.ask({ do: 'fly-to', atMm: spot.atMm })}
      >
        <span class="id">${spot.id}</span>
        <span>${saySpot(spot)}</span>
        <span class="depth">${formatLength(spot.maxDepthMm, units)}</span>
        <span class="more">
          ${formatArea(spot.areaMm2, units)}, ${formatVolume(spot.fillerMm3, units)} or
          ${formatMass(spotG, units)}${spot.isWithinGive ? '; the rubber yields' : ''}
        </span>
      </button>
      <label class="check" ?hidden=${!this.canFill && filled === null}>
        <input
          type="checkbox"
          aria-label="Filler in ${where}"
          .checked=${filled !== null}
          @change=${() =>
            this.edit(
              filled === null
                ? fillSpot(spot.atMm)
                : emptySpot(
                    spot.atMm,
                    filled.spots.map(({ atMm }) => atMm),
                  ),
            )}
        />
        fill
      </label>
    </li>`;
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
      <ul aria-label="Filled spots" ?inert=${isStale(this.session)}>
        ${filler.spots.map((spot) => this.renderSpot(spot, filler))}
      </ul>
      <p class="small soft after">
        Thickened rubber or clay; the shell is planned over it. Depth and place as they were on the bare rubber.
      </p>
    `;
  }

  /** The button that was pressed goes away, so that the keys would be lost: the first spot it brought takes them. */
  private showWhole(): void {
    this.isWhole = true;
    void this.updateComplete.then(() => {
      this.renderRoot.querySelectorAll<HTMLElement>('button.fly')[FIRST_SPOTS]?.focus();
    });
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
