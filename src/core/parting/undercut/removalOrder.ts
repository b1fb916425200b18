import type { RemovalOrder } from './UndercutStep.ts';

/**
 * The order in which pieces come off, from who stands in whose way: a topological sort, of the pieces that can go the
 * one of lowest number first. Members of a ring of pieces that wait for each other are `locked`; they and whatever waits
 * for them stand last in the order.
 *
 * @param isBlocked pieceCount x pieceCount, row-major: entry [i, j] is not 0 when j has to be off before i can move.
 * Cost: O(pieceCount^3), for a handful of pieces.
 */
export function orderRemoval(isBlocked: Uint8Array, pieceCount: number): RemovalOrder {
  const waits: [number, number][] = [];
  for (let i = 0; i < pieceCount; i++) {
    for (let j = 0; j < pieceCount; j++)
      if (i !== j && isBlocked[i * pieceCount + j] !== 0) waits.push([i, j]);
  }
  const order: number[] = [];
  const isOff = new Uint8Array(pieceCount);
  for (;;) {
    const next = firstFree(waits, isOff);
    if (next < 0) break;
    isOff[next] = 1;
    order.push(next);
  }
  const reaches = closure(waits, pieceCount);
  const locked: number[] = [];
  for (let i = 0; i < pieceCount; i++) {
    if (isOff[i]) continue;
    order.push(i);
    if (reaches[i * pieceCount + i]) locked.push(i);
  }
  return { order, waits, locked };
}

/** The first piece that is still on and waits for none that is; -1 when there is none. */
function firstFree(waits: readonly (readonly [number, number])[], isOff: Uint8Array): number {
  return isOff.findIndex(
    (off, i) => off === 0 && !waits.some(([piece, by]) => piece === i && isOff[by] === 0),
  );
}

/** Who waits for whom, directly or through others (S. Warshall, "A theorem on Boolean matrices", 1962). */
function closure(waits: readonly (readonly [number, number])[], n: number): Uint8Array {
  const reaches = new Uint8Array(n * n);
  for (const [i, j] of waits) reaches[i * n + j] = 1;
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < n; i++) {
      if (!reaches[i * n + k]) continue;
      for (let j = 0; j < n; j++) if (reaches[k * n + j]) reaches[i * n + j] = 1;
    }
  }
  return reaches;
}
