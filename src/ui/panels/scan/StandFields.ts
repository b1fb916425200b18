import { css, html, LitElement, nothing } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import type { UpAxis } from '../../../core/plan/PlanDocument.ts';
import { UP_AXES } from '../../../session/planChoices.ts';
import { isStale, type PlanEdit, type SessionState } from '../../../session/SessionStore.ts';
import { setTilt, setTurn, setUpAxis } from '../../../session/scanActions.ts';
import { setAngles, standingOf } from '../../../session/standAnew.ts';
import type { StanderState } from '../../control/Stander.ts';
import { type Command, CommandEvent, PlanEditEvent } from '../../events.ts';
import type { ValueEvent } from '../../fields/ValueEvent.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import '../../fields/ChoiceField.ts';
import '../../fields/NumberField.ts';

/** How the mould stands: turned by hand, set on one of its faces, or by angles. */
@customElement('scute-stand-fields')
export class StandFields extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .fields.three {
        grid-template-columns: repeat(3, minmax(0, 1fr));
        align-items: end;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) stander!: StanderState;

  override render() {
    const { scan } = this.session.plan;
    const { mode } = this.stander;
    const up = [
      { value: 'auto', text: 'find' },
      ...UP_AXES.map((axis) => ({ value: axis, text: axis.replace('-', '\u2212') })),
    ];
    return html`
      <h3>Standing</h3>
      <div class="row actions">
        ${this.renderMode('turn', 'Turn by hand')} ${this.renderMode('base', 'This face is the base')}
      </div>
      ${
        mode === 'turn'
          ? html`<p class="note">
            Drag the mould upright; near upright it snaps. With Shift or two fingers you move the picture. On the figure,
            arrow keys turn by 1°, with Shift by 15°.
          </p>`
          : nothing
      }
      ${
        mode === 'base'
          ? html`<p class="note">
            Click the face that stands on the board; what counts as that face is crossed. Dragging turns the picture. On
            the figure, Space takes the face at the cross.
          </p>`
          : nothing
      }
      <div class="stack">
        <scute-choice
          label="Axis that points up"
          .options=${up}
          .value=${scan.up}
          @value=${(e: ValueEvent<string>) => this.edit(setUpAxis(e.value as UpAxis | 'auto'))}
        ></scute-choice>
      </div>
      <div class="fields three">
        <scute-number-field
          label="Turn"
          unit="°"
          .value=${scan.turnDeg}
          step="5"
          digits="2"
          min="-360"
          max="360"
          @value=${(e: ValueEvent<number>) => this.turn(e.value)}
        ></scute-number-field>
        <scute-number-field
          label="Tilt about x"
          unit="°"
          .value=${scan.tiltDeg[0]}
          step="0.5"
          digits="2"
          min="-90"
          max="90"
          @value=${(e: ValueEvent<number>) => this.tilt(0, e.value)}
        ></scute-number-field>
        <scute-number-field
          label="Tilt about y"
          unit="°"
          .value=${scan.tiltDeg[1]}
          step="0.5"
          digits="2"
          min="-90"
          max="90"
          @value=${(e: ValueEvent<number>) => this.tilt(1, e.value)}
        ></scute-number-field>
      </div>
    `;
  }

  private renderMode(mode: 'turn' | 'base', text: string) {
    const isOn = this.stander.mode === mode;
    const isOff = !isOn && (!this.session.answer || isStale(this.session));
    return html`<button
      aria-pressed=${isOn ? 'true' : 'false'}
      class=${isOn ? 'primary' : ''}
      ?disabled=${isOff}
      @click=${() => this.ask(isOn ? { do: 'stand-rest' } : { do: 'stand-start', mode })}
    >
      ${isOn ? 'Done' : text}
    </button>`;
  }

  private turn(turnDeg: number): void {
    const standing = this.standing;
    const inRound = ((turnDeg % 360) + 360) % 360;
    this.edit(standing ? setAngles(standing, { turnDeg: inRound }) : setTurn(turnDeg));
  }

  private tilt(axis: 0 | 1, deg: number): void {
    const standing = this.standing;
    const [x, y] = this.session.plan.scan.tiltDeg;
    const tiltDeg = axis === 0 ? ([deg, y] as const) : ([x, deg] as const);
    this.edit(standing ? setAngles(standing, { tiltDeg }) : setTilt(axis, deg));
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
