import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { Suggestion } from '../../core/parting/suggest/Suggestion.ts';
import { formatArea, formatLength, formatMass, formatVolume } from '../../core/units.ts';
import { sayPull } from '../../report/sayPull.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import { type AskedCount, type FinderState, PIECE_COUNTS } from '../control/SuggestionFinder.ts';
import { CommandEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { sayRemoval } from '../sayRemoval.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/ChoiceField.ts';

/** Complete proposals, best first: asked for, looked at on the mould, taken. */
@customElement('scute-suggestions')
export class SuggestionList extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .ask {
        display: flex;
        flex-wrap: wrap;
        gap: 10px;
        align-items: end;
        justify-content: space-between;
      }
      .under-way {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 8px;
        font-size: var(--size-small);
      }
      li.card {
        display: grid;
        grid-template-columns: 34px minmax(0, 1fr);
        gap: 2px 10px;
        padding: 14px 0 14px 8px;
        border-bottom: 1px solid var(--line-soft);
        border-left: 4px solid transparent;
        outline-offset: -3px;
      }
      li.card.shown {
        border-left-color: var(--accent);
        background: var(--paper-raised);
      }
      .rank {
        width: 30px;
        height: 30px;
        border: 1.5px solid var(--ink);
        border-radius: 50%;
        display: grid;
        place-items: center;
        font-size: var(--size-small);
        margin-top: 7px;
      }
      .card.shown .rank {
        background: var(--accent);
        border-color: var(--accent);
        color: var(--on-accent);
        font-weight: bold;
      }
      .top {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: 8px;
        min-height: var(--target);
      }
      .top b {
        font-size: var(--size-body);
      }
      .body {
        min-width: 0;
      }
      .figures {
        display: grid;
        grid-template-columns: repeat(3, minmax(0, 1fr));
        gap: 6px 10px;
        margin: 4px 0 8px;
      }
      .figures dt {
        font-size: var(--size-small);
        color: var(--ink-soft);
        line-height: 1.2;
      }
      .figures dd {
        font-weight: bold;
      }
      .figures dd.small {
        font-weight: normal;
      }
      .pieces {
        display: flex;
        flex-wrap: wrap;
        gap: 2px 14px;
        margin-top: 6px;
        font-size: var(--size-small);
      }
      .pieces li {
        display: flex;
        align-items: center;
        gap: 6px;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) finder!: FinderState;

  override render() {
    const { count, job, suggestions, isOutdated, isDone, problem } = this.finder;
    const options = [
      ...PIECE_COUNTS.map((n) => ({ value: String(n), text: String(n) })),
      { value: 'all', text: 'each' },
    ];
    return html`
      <div class="ask">
        <scute-choice
          label="Look for partings into pieces"
          .options=${options}
          .value=${String(count)}
          @value=${(e: ValueEvent<string>) => this.ask({ do: 'suggest-count', count: readCount(e.value) })}
        ></scute-choice>
        <button
          class="primary"
          ?disabled=${!this.session.scan || !this.session.answer || job !== null}
          @click=${() => this.ask({ do: 'suggest-start' })}
        >
          ${suggestions.length > 0 || isDone ? 'Suggest again' : 'Suggest'}
        </button>
      </div>
      ${
        job
          ? html`<div class="under-way" role="status">
              <span>${job.phase}, ${Math.round(job.fraction * 100)}\u00a0%</span>
              <button class="quiet" @click=${() => this.ask({ do: 'suggest-stop' })}>Stop the search</button>
            </div>
            <progress max="1" .value=${job.fraction} aria-label="Progress of the search"></progress>`
          : nothing
      }
      ${problem ? html`<p class="problem" role="alert">${problem}</p>` : nothing}
      ${
        isOutdated && suggestions.length > 0
          ? html`<p class="note">These were found before your last change. Suggest again to take it in.</p>`
          : nothing
      }
      ${
        isDone && suggestions.length === 0 && !problem
          ? html`<p class="note">Nothing better than the lines there are was found.</p>`
          : nothing
      }
      ${
        suggestions.length === 0
          ? nothing
          : html`<ol
            aria-label="Suggestions, best first"
            @mouseleave=${() => this.ask({ do: 'suggest-show', index: null })}
            @focusout=${() => this.ask({ do: 'suggest-show', index: null })}
          >
            ${suggestions.map((suggestion, i) => this.renderCard(suggestion, i))}
          </ol>`
      }
    `;
  }

  private renderCard(suggestion: Suggestion, i: number) {
    const { plan, prefs } = this.session;
    const { units } = prefs;
    const isShown = this.finder.shown === i;
    const isTaken = JSON.stringify(plan.parting.lines) === JSON.stringify(suggestion.lines);
    const isHeld = this.finder.held === i;
    // The one in the plan is on the mould already, with its pieces.
    const show = () => this.ask({ do: 'suggest-show', index: isTaken ? null : i });
    const heaviest = Math.max(...suggestion.pieces.map((piece) => piece.massG));
    const { fillerG } = suggestion;
    const figures: readonly (readonly [name: string, text: string, under?: string])[] = [
      ['Locks', suggestion.maxDepthMm > 0 ? formatLength(suggestion.maxDepthMm, units) : 'nowhere'],
      suggestion.fillerMm3 > 0
        ? ['Filler', formatVolume(suggestion.fillerMm3, units), formatMass(fillerG, units)]
        : ['Filler', 'none'],
      ['Undercut', suggestion.undercutMm2 > 0 ? formatArea(suggestion.undercutMm2, units) : 'none'],
      ['Line', formatLength(suggestion.lineMm, units)],
      ['Longest flange', formatLength(suggestion.longestFlangeMm, units)],
      ['Heaviest', formatMass(heaviest, units)],
    ];
    const order = sayRemoval(
      suggestion.removal,
      suggestion.pieces.map(({ id }) => ({ id, name: id })),
    );
    return html`<li
      class="card ${isShown ? 'shown' : ''}"
      aria-current=${isTaken ? 'true' : nothing}
      @mouseenter=${show}
      @focusin=${show}
    >
      <span class="rank" aria-hidden="true">${i + 1}</span>
      <div class="body">
        <div class="top">
          <b>${suggestion.pieces.length} pieces</b>
          <span class="row">
            ${
              isTaken
                ? html`<span class="small soft">in the plan</span>`
                : html`<button
                    class="quiet"
                    aria-pressed=${isHeld ? 'true' : 'false'}
                    aria-label="Show suggestion ${i + 1} on the mould"
                    @click=${() => this.ask({ do: 'suggest-hold', index: isHeld ? null : i })}
                  >
                    Show
                  </button>
                  <button
                    aria-label="Take suggestion ${i + 1}"
                    @click=${() => this.ask({ do: 'suggest-take', index: i })}
                  >
                    Take it
                  </button>`
            }
          </span>
        </div>
        <p class="small">${suggestion.why}</p>
        <dl class="figures">
          ${figures.map(
            ([name, text, under]) => html`<div>
              <dt>${name}</dt>
              <dd>${text}</dd>
              ${under ? html`<dd class="small">${under}</dd>` : nothing}
            </div>`,
          )}
        </dl>
        <ul class="pieces" aria-label="Pieces of suggestion ${i + 1}">
          ${suggestion.pieces.map(
            (piece, p) => html`<li>
              <span class="swatch piece-${p % 6}"></span>${piece.id} pulls ${sayPull(piece.pull)},
              ${formatMass(piece.massG, units)}
            </li>`,
          )}
        </ul>
        ${suggestion.removal.waits.length + suggestion.removal.locked.length > 0 ? html`<p class="small">${order}</p>` : nothing}
      </div>
    </li>`;
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}

function readCount(value: string): AskedCount {
  return PIECE_COUNTS.find((n) => String(n) === value) ?? 'all';
}
