import type { RubberPicture } from '../../jobs/protocol.ts';
import type { MouldView } from '../../view/MouldView.ts';
import { announce } from '../announce.ts';
import type { StanderState, StandMode } from '../control/Stander.ts';
import type { Command } from '../events.ts';
import { type StandToolGround, standTool } from './standTool.ts';

/** Said aloud when a tool is taken in hand. */
const SAID: Readonly<Record<Exclude<StandMode, 'rest'>, string>> = {
  turn: 'Turning the mould. In the figure, arrow keys turn it by one degree, with Shift by fifteen. Escape ends.',
  base: 'Choose the face that stands on the board. In the figure, Space takes the face at the cross. Escape ends.',
  board: 'Moving the board. Use the slider, or arrow keys in the figure. Escape ends.',
  crop: 'A plane to cut with. Its place is set by the fields, or by arrow keys in the figure. Escape ends.',
};

/** Holds the tool that goes with what the stander does, and lays it down again; other tools it leaves alone. */
export class StandHand {
  private held: Exclude<StandMode, 'rest'> | null = null;
  private rubber: RubberPicture | null = null;

  constructor(
    private readonly stander: () => StanderState,
    private readonly ask: (command: Command) => void,
  ) {}

  /** Brings view and tool to what the stander does now. `isOtherHeld`: a brush is in the hand, which is not to be taken away. */
  show(
    view: MouldView,
    rubber: RubberPicture | null,
    units: StandToolGround['units'],
    isOtherHeld: boolean,
  ): void {
    const { mode, trial } = this.stander();
    view.setTrial(trial);
    const wanted = mode === 'rest' || rubber === null ? null : mode;
    if (wanted === this.held && (wanted === null || rubber === this.rubber)) return;
    const before = this.held;
    this.held = wanted;
    this.rubber = rubber;
    if (wanted === null || rubber === null) {
      if (!isOtherHeld) view.setTool(null);
      return;
    }
    const { stander, ask } = this;
    view.setTool(standTool(wanted, { view, rubber, box: rubber.box, units, stander, ask }));
    if (before !== wanted) announce(SAID[wanted]);
  }
}
