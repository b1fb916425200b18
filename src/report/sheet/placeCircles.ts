import type { SideLabel } from '../../core/picture/SidePicture.ts';

/** A numbered circle, and the spot that it speaks of, picture pixels. */
export interface NumberedCircle {
  readonly number: number;
  readonly x: number;
  readonly y: number;
  readonly spotX: number;
  readonly spotY: number;
}

/** Directions that are tried for a circle that would lie on another, and how far out, radii. */
const TURNS = 16;
const REACHES = [2.4, 3.6, 5, 7] as const;

/**
 * Sets a circle of this radius on each probe's spot, or beside it where it would lie on an earlier one, on a word (`taken`, circles
 * too) or off the picture. Where nothing is free it stays on its spot. Deterministic.
 */
export function placeCircles(
  labels: readonly SideLabel[],
  radius: number,
  widthPx: number,
  heightPx: number,
  taken: readonly { readonly x: number; readonly y: number; readonly radius: number }[],
): NumberedCircle[] {
  const full = [...taken];
  return labels
    .filter((label) => label.kind === 'probe')
    .map(({ number, xPx, yPx }): NumberedCircle => {
      const tries = [
        [xPx, yPx],
        ...REACHES.flatMap((reach) =>
          Array.from({ length: TURNS }, (_, n) => {
            const turn = (2 * Math.PI * n) / TURNS;
            return [xPx + reach * radius * Math.cos(turn), yPx + reach * radius * Math.sin(turn)];
          }),
        ),
      ];
      const isFree = ([x, y]: readonly number[]): boolean =>
        x >= radius &&
        y >= radius &&
        x <= widthPx - radius &&
        y <= heightPx - radius &&
        full.every((other) => Math.hypot(other.x - x, other.y - y) >= other.radius + radius);
      const [x, y] = tries.find(isFree) ?? [xPx, yPx];
      full.push({ x, y, radius });
      return { number, x, y, spotX: xPx, spotY: yPx };
    });
}
