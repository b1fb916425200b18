import type { DrafterState } from '../control/LineDrafter.ts';
import type { PainterState } from '../control/Painter.ts';
import type { StanderState } from '../control/Stander.ts';

/** What is in the hand over the figure. */
export interface HandNow {
  readonly drafter: Pick<DrafterState, 'mode'>;
  readonly painter: Pick<PainterState, 'does'>;
  readonly stander: Pick<StanderState, 'mode'>;
  /** Something can be read under the cross: a map, a cut. */
  readonly canRead: boolean;
}

const DRAFTING: Readonly<Record<Exclude<DrafterState['mode'], 'look'>, string>> = {
  draw: 'Space sets a point at the cross, Backspace takes the last one back, Enter takes the line.',
  edit: 'N goes to the next point, M moves it to the cross, Delete takes it out. Space adds one at the cross.',
  measure: 'Space sets a point at the cross.',
  avoid: 'Space marks the spot at the cross.',
};

/** What keys do at the cross in the middle of the figure with what is in the hand; null: nothing is done or read there. */
export function keyHelp({ drafter, painter, stander, canRead }: HandNow): string | null {
  if (drafter.mode !== 'look') return DRAFTING[drafter.mode];
  if (painter.does === 'paint') return 'Space dabs at the cross, [ and ] change the size.';
  if (painter.does === 'erase') return 'Space takes dabs away at the cross, [ and ] change the size.';
  if (stander.mode === 'base') return 'Space takes the face at the cross.';
  return canRead && stander.mode === 'rest' ? 'Reads at the cross.' : null;
}
