import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { formatLength } from '../../../core/units.ts';
import { isStale, type PlanEdit, type SessionState } from '../../../session/SessionStore.ts';
import { setBoard } from '../../../session/scanActions.ts';
import { setBoardHeight, standingOf } from '../../../session/standAnew.ts';
import type { StanderState } from '../../control/Stander.ts';
import { type Command, CommandEvent, PlanEditEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/LengthField.ts';

/** The slider reaches so far up the mould and below its board, share of its height. Own choice: a table, a plinth. */
const UP_SHARE = 0.4;
const DOWN_SHARE = 0.1;

/** Where the board is: found, at a height that is tried live, or none. */
@customElement('scute-board-fields')
export class BoardFields extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .slide {
        display: grid;
        grid-template-columns: minmax(0, 1fr) 120px;
        gap: 12px;
        align-items: center;
      }
      input[type='range'] {
        width: 100%;
        height: var(--target);
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) stander!: StanderState;

  override render() {
    const { scan } = this.session.plan;
    const { mode } = this.stander;
    const isOff = mode !== 'board' && (!this.session.answer || isStale(this.session));
    return html`
      <div class="stack">
        <scute-choice
          label="Board"
          .options=${[
            { value: 'auto', text: 'find' },
            { value: 'height', text: 'at a height' },
            { value: 'none', text: 'none' },
          ]}
          .value=${typeof scan.board === 'number' ? 'height' : scan.board}
          @value=${(e: ValueEvent<string>) => this.choose(e.value)}
        ></scute-choice>
        ${
          typeof scan.board === 'number'
            ? html`<scute-length-field
              label="Board above the file's zero"
              .mm=${scan.board}
              .system=${this.session.prefs.units}
              min="-100000"
              @value=${(e: ValueEvent<number>) => this.set(e.value)}
            ></scute-length-field>`
            : nothing
        }
        ${mode === 'board' ? this.renderSlide() : nothing}
      </div>
      <div class="row actions">
        <button
          aria-pressed=${mode === 'board' ? 'true' : 'false'}
          class=${mode === 'board' ? 'primary' : ''}
          ?disabled=${isOff}
          @click=${() => this.ask(mode === 'board' ? { do: 'stand-rest' } : { do: 'stand-start', mode: 'board' })}
        >
          ${mode === 'board' ? 'Done' : 'Move the board'}
        </button>
      </div>
    `;
  }

  private renderSlide() {
    const { boardMm } = this.stander;
    const { prefs, answer } = this.session;
    const heightMm = answer?.result.rubber.heightMm ?? 100;
    const said = `${formatLength(Math.abs(boardMm), prefs.units)} ${boardMm < 0 ? 'lower' : 'higher'}`;
    return html`
      <p class="note">
        Slide the board, or drag its handle in the figure. What falls below it is struck through and goes when you let go;
        what was cut off before comes back when it is lowered.
      </p>
      <div class="slide">
        <input
          type="range"
          aria-label="Board, from where it is"
          aria-valuetext=${said}
          min=${-DOWN_SHARE * heightMm}
          max=${UP_SHARE * heightMm}
          step=${heightMm / 500}
          .value=${String(boardMm)}
          @input=${(e: Event) => this.slide(e, false)}
          @change=${(e: Event) => this.slide(e, true)}
        />
        <output>${said}</output>
      </div>
    `;
  }

  private slide(event: Event, isDone: boolean): void {
    const mm = Number((event.target as HTMLInputElement).value);
    this.ask({ do: 'stand-board', mm, isDone });
  }

  private choose(value: string): void {
    if (value !== 'height') this.edit(setBoard(value as 'auto' | 'none'));
    // At a height: to begin with, the one where it is.
    else this.edit(setBoard(this.standing?.boardMm ?? 0));
  }

  private set(mm: number): void {
    this.edit(this.standing ? setBoardHeight(this.standing, mm) : setBoard(mm));
  }

  /** How the mould stands in the picture, when that is the plan's. */
  private get standing() {
    const { answer } = this.session;
    return answer && !isStale(this.session) ? standingOf(answer.geometry.fileToBoard) : null;
  }

  private edit(edit: PlanEdit): void {
    this.dispatchEvent(new PlanEditEvent(edit));
  }

  private ask(command: Command): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
