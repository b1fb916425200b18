import type { DosePoint } from './MaterialSystem.ts';

export interface DosedTime {
  readonly minutes: number;
  /** Without the additive by the same points: the list's own value at dose 0, else the plain time. */
  readonly plainMin: number;
  /** The nearest dose that is given, where the asked one lies beyond all of them; null: nothing was guessed. */
  readonly takenAtShare: number | null;
}

/**
 * How long it takes at a dose, interpolated in straight lines between the points about it. The plain time counts as the point
 * at dose 0 unless the list has its own. Beyond the last point nothing is known: its value is taken and `takenAtShare` says
 * so. Null for an empty list.
 */
export function doseMinutes(
  points: readonly DosePoint[],
  plainMin: number,
  doseShare: number,
): DosedTime | null {
  if (points.length === 0) return null;
  const [first] = points;
  const known = first.doseShare === 0 ? points : [{ doseShare: 0, minutes: plainMin }, ...points];
  const plain = known[0].minutes;
  const above = known.findIndex((point) => point.doseShare >= doseShare);
  if (above === 0) return { minutes: plain, plainMin: plain, takenAtShare: null };
  if (above < 0) {
    const last = known[known.length - 1];
    return { minutes: last.minutes, plainMin: plain, takenAtShare: last.doseShare };
  }
  const low = known[above - 1];
  const high = known[above];
  const along = (doseShare - low.doseShare) / (high.doseShare - low.doseShare);
  return { minutes: low.minutes + along * (high.minutes - low.minutes), plainMin: plain, takenAtShare: null };
}
