import type { TouchPicture } from '../jobs/protocol.ts';

/** True when any of the shell's vertices is inside the rubber while the piece is slid by `mm`. Cost: one pass at most. */
export function isTouching({ fromMm, toMm }: TouchPicture, mm: number): boolean {
  for (let i = 0; i < fromMm.length; i++) if (fromMm[i] < mm && mm < toMm[i]) return true;
  return false;
}
