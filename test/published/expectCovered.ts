import { expect } from 'vitest';

export interface Stated {
  readonly volumeMm3: number;
  readonly volumeErrorMm3: number;
}

/**
 * The stated bound covers the true error, and is worth something: no more than `worthShare` of the volume.
 *
 * @param deviationMm3 how far the exact number itself may be from the body as meshed, mm3; derived where it is given.
 */
export function expectCovered(
  stated: Stated,
  exactMm3: number,
  { deviationMm3 = 0, worthShare = 0.05, of = 'volume' } = {},
): void {
  const error = Math.abs(stated.volumeMm3 - exactMm3);
  expect(
    error,
    `${of}: ${stated.volumeMm3} against ${exactMm3}, bound ${stated.volumeErrorMm3}`,
  ).toBeLessThanOrEqual(stated.volumeErrorMm3 + deviationMm3);
  expect(stated.volumeErrorMm3, `${of}: the bound is too wide to be of use`).toBeLessThan(
    worthShare * Math.abs(exactMm3),
  );
}
