import type { Stage } from '../../session/ViewPrefs.ts';

/** A hint of the first minute: shown once, put away for good. */
export interface Hint {
  /** Under which it is remembered as seen. */
  readonly key: string;
  readonly title: string;
  readonly text: string;
}

/** In the order in which they are of use. */
export const HINTS: readonly Hint[] = [
  {
    key: 'turn',
    title: 'Look at it from all sides',
    text: 'Drag the mould to turn it; two fingers, or the wheel, bring it nearer. With keys: Tab to the figure, then the arrows.',
  },
  {
    key: 'stages',
    title: 'Five stages, in the order of the work',
    text: 'Go to any of them at any time, as often as you like. Under each name stands what it has come to so far.',
  },
  {
    key: 'totals',
    title: 'The foot of the sheet says what it comes to',
    text: 'Change a coat or a line: beside each number stands what that did to it. Undo takes it back.',
  },
];

/** The first hint that was not put away yet and speaks of something in sight, and which it is of how many; null when there is none. */
export function nextHint(
  seen: readonly string[],
  stage: Stage,
): { readonly hint: Hint; readonly number: number; readonly of: number } | null {
  const at = HINTS.findIndex(({ key }) => !seen.includes(key) && !(stage === 'sheet' && key === 'turn'));
  return at < 0 ? null : { hint: HINTS[at], number: at + 1, of: HINTS.length };
}
