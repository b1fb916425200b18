import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { PieceResult } from '../../core/PlanResult.ts';
import type { SnapTo } from '../../core/parting/draw/SnappedPoint.ts';
import { formatLength } from '../../core/units.ts';
import { joinPieces, removeLine, suggestLines } from '../../session/partingActions.ts';
import type { PlanEdit, SessionState } from '../../session/SessionStore.ts';
import { bordersOf } from '../bordersOf.ts';
import type { DrafterState } from '../control/LineDrafter.ts';
import { partingNow } from '../control/linesNow.ts';
import { CommandEvent, PlanEditEvent } from '../events.ts';
import { removeIcon } from '../icons.ts';
import { sayPiece } from '../sayPiece.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';

/** The kinds that a point can snap to: the word on the switch, and in "Snapped to the ...". */
const SNAPS: readonly { readonly to: SnapTo; readonly text: string; readonly at: string }[] = [
  { to: 'ridge', text: 'Ridges', at: 'the ridge' },
  { to: 'silhouette', text: 'Silhouette for the pull', at: 'the silhouette for the pull' },
  { to: 'board', text: 'The board', at: 'the board' },
];

/** Drawing, moving and smoothing parting lines, and what they do to the pieces: splitting and joining. */
@customElement('scute-line-tools')
export class LineTools extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      fieldset {
        border: none;
        margin: 0;
        padding: 0;
        min-width: 0;
      }
      legend {
        padding: 0;
        color: var(--ink-soft);
        font-size: var(--size-small);
      }
      .snaps {
        display: flex;
        flex-wrap: wrap;
        column-gap: 18px;
      }
      .entry {
        display: flex;
        align-items: center;
        gap: 8px;
        min-height: var(--target);
        padding: 4px 0;
        border-bottom: 1px solid var(--line-soft);
      }
      .entry > .words {
        flex: 1;
        min-width: 0;
      }
      .entry button.pick {
        flex: 1;
        display: flex;
        justify-content: space-between;
        text-align: left;
        gap: 8px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) drafter!: DrafterState;
  @property({ attribute: false }) canFinish = false;
  /** 'tools': the buttons and switches alone; 'list': the lines and pieces alone. */
  @property() show: 'all' | 'tools' | 'list' = 'all';

  override render() {
    return html`
      ${this.show === 'list' ? nothing : this.renderTools()}
      ${this.show === 'tools' ? nothing : html`${this.renderLines()} ${this.renderPieces()}`}
    `;
  }

  private renderTools() {
    switch (this.drafter.mode) {
      case 'draw':
        return this.renderDrawing();
      case 'edit':
        return this.renderEditing();
      default:
        return this.renderStart();
    }
  }

  private renderStart() {
    const hasAnswer = this.session.answer !== null;
    const { problem, isSmoothing } = this.drafter;
    return html`
      <div class="row">
        <button class="primary" ?disabled=${!hasAnswer} @click=${() => this.ask({ do: 'draw-start' })}>
          Draw a line
        </button>
        <button ?disabled=${!hasAnswer} @click=${() => this.ask({ do: 'draw-cap' })}>Draw a cap</button>
        <button
          ?disabled=${!hasAnswer || this.session.answer?.geometry.lines.length === 0 || isSmoothing}
          @click=${() => this.ask({ do: 'edit-lines' })}
        >
          Move points
        </button>
      </div>
      ${problem ? html`<p class="problem after" role="alert">${problem}</p>` : nothing}
    `;
  }

  private renderDrawing() {
    const { closed, points, problem, splitting } = this.drafter;
    const piece = this.pieces.find(({ id }) => id === splitting);
    return html`
      ${
        piece
          ? html`<p class="note">
              Draw the line across ${sayPiece(piece)}. It may end on the board or on another line.
            </p>`
          : nothing
      }
      <label class="check">
        <input
          type="checkbox"
          .checked=${closed}
          @change=${(e: Event) =>
            this.ask({ do: 'draw-close', closed: (e.target as HTMLInputElement).checked })}
        />
        The line runs round and closes
      </label>
      ${this.renderSnaps()}
      ${problem ? html`<p class="note" role="alert">Not yet a line: ${problem}</p>` : nothing}
      <div class="row actions">
        <button class="primary" ?disabled=${!this.canFinish} @click=${() => this.ask({ do: 'draw-finish' })}>
          Take the line
        </button>
        <button ?disabled=${points.length === 0} @click=${() => this.ask({ do: 'draw-back' })}>Back</button>
        <button @click=${() => this.ask({ do: 'draw-cancel' })}>Cancel</button>
      </div>
      ${
        splitting === null && this.session.plan.parting.lines === 'auto'
          ? html`<p class="small soft after">Your line takes the place of the suggested one.</p>`
          : nothing
      }
    `;
  }

  private renderEditing() {
    const { problem, selected } = this.drafter;
    return html`
      ${this.renderSnaps()} ${problem ? html`<p class="problem" role="alert">${problem}</p>` : nothing}
      <div class="row">
        <button class="primary" @click=${() => this.ask({ do: 'draw-cancel' })}>Done</button>
        <button
          ?disabled=${selected === null || selected.point === null}
          @click=${() => this.ask({ do: 'delete-point' })}
        >
          Delete the point
        </button>
      </div>
    `;
  }

  private renderSnaps() {
    const { snapTo, snapped } = this.drafter;
    const at = SNAPS.find(({ to }) => to === snapped)?.at;
    return html`
      <fieldset>
        <legend>Points snap to</legend>
        <div class="snaps">
          ${SNAPS.map(
            ({ to, text }) => html`<label class="check">
              <input
                type="checkbox"
                .checked=${snapTo.includes(to)}
                @change=${(e: Event) =>
                  this.ask({ do: 'draw-snap', to, on: (e.target as HTMLInputElement).checked })}
              />
              ${text}
            </label>`,
          )}
        </div>
      </fieldset>
      <p class="small soft" role="status">${at ? `Snapped to ${at}.` : ''}</p>
    `;
  }

  private renderLines() {
    const { answer, plan, prefs } = this.session;
    const lines = answer?.geometry.lines ?? [];
    if (!answer || lines.length === 0) return nothing;
    const isOwn = plan.parting.lines !== 'auto';
    const totalMm = answer.result.partingLines.reduce((sum, line) => sum + line.lengthMm, 0);
    return html`
      <ul aria-label="Lines">
        ${lines.map((line, i) => this.renderLine(line.closed, pathLengthMm(line.path), i, isOwn))}
      </ul>
      <dl class="facts">
        <div>
          <dt>Parting wall in all, for shims</dt>
          <dd>${formatLength(totalMm, prefs.units)}</dd>
        </div>
      </dl>
      ${
        isOwn
          ? html`<div class="row actions">
            <button @click=${() => this.edit(suggestLines(plan.parting.pieceCount))}>
              Back to the suggested line
            </button>
          </div>`
          : nothing
      }
    `;
  }

  private renderLine(closed: boolean, lengthMm: number, i: number, isOwn: boolean) {
    const { selected, isSmoothing, mode } = this.drafter;
    const isPicked = selected?.line === i;
    return html`<li class="entry">
      <button
        class="quiet pick"
        aria-pressed=${isPicked ? 'true' : 'false'}
        @click=${() => this.ask({ do: 'select-line', line: isPicked ? null : i, point: null })}
      >
        <span>Line ${i + 1}, ${isOwn ? (closed ? 'runs round' : 'yours') : 'suggested'}</span>
        <span>${formatLength(lengthMm, this.session.prefs.units)}</span>
      </button>
      <button
        aria-label="Smooth line ${i + 1}"
        ?disabled=${isSmoothing || mode === 'draw'}
        @click=${() => this.ask({ do: 'smooth-line', line: i })}
      >
        Smooth
      </button>
      ${
        isOwn
          ? html`<button
            class="quiet"
            aria-label="Remove line ${i + 1}"
            title="Remove the line"
            @click=${() => this.edit(removeLine(i))}
          >
            ${removeIcon}
          </button>`
          : nothing
      }
    </li>`;
  }

  /** What lines do: each piece can be cut in two, each two that share a line can be made one. */
  private renderPieces() {
    const { answer, prefs } = this.session;
    if (!answer || this.drafter.mode === 'draw') return nothing;
    const borders = bordersOf(this.session);
    return html`
      <h3>Split and join</h3>
      <ul aria-label="Pieces to split">
        ${this.pieces.map(
          (piece, i) => html`<li class="entry">
            <span class="name words">
              <span class="swatch piece-${i % 6}"></span>
              ${sayPiece(piece)}
            </span>
            <button
              aria-label="Split ${sayPiece(piece)}"
              @click=${() => this.ask({ do: 'split-piece', piece: piece.id })}
            >
              Split
            </button>
          </li>`,
        )}
      </ul>
      ${
        borders.length > 0
          ? html`<ul aria-label="Pieces to join">
            ${borders.map(
              ({ pair, lengthMm }) => html`<li class="entry">
                <span class="words">
                  ${pair.map(sayPiece).join(' and ')}
                  <span class="small soft">${formatLength(lengthMm, prefs.units)} of line</span>
                </span>
                <button
                  aria-label="Join ${pair.map(sayPiece).join(' and ')}"
                  @click=${() => this.join(pair[0].id, pair[1].id)}
                >
                  Join
                </button>
              </li>`,
            )}
          </ul>`
          : nothing
      }
      <p class="small soft after">A split piece keeps its name and pull for one half. Joining takes the line between the two out.</p>
    `;
  }

  private join(a: string, b: string): void {
    const now = partingNow(this.session);
    const runs = this.session.answer?.result.partingLines;
    if (now && runs) this.edit(joinPieces([a, b], runs, now));
  }

  private get pieces(): readonly PieceResult[] {
    return this.session.answer?.result.pieces ?? [];
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}

function pathLengthMm(path: Float32Array): number {
  let sum = 0;
  for (let i = 3; i + 2 < path.length; i += 3) {
    sum += Math.hypot(path[i] - path[i - 3], path[i + 1] - path[i - 2], path[i + 2] - path[i - 1]);
  }
  return sum;
}
