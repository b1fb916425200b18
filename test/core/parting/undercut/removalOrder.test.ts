import { describe, expect, it } from 'vitest';
import { orderRemoval } from '../../../../src/core/parting/undercut/removalOrder.ts';

const matrix = (...rows: number[][]): Uint8Array => Uint8Array.from(rows.flat());

describe('orderRemoval', () => {
  it('takes pieces that nothing holds in their own order', () => {
    expect(orderRemoval(new Uint8Array(9), 3)).toEqual({ order: [0, 1, 2], waits: [], locked: [] });
  });

  it('takes a cap first that two sides wait for', () => {
    const { order, waits, locked } = orderRemoval(matrix([0, 0, 1], [0, 0, 1], [0, 0, 0]), 3);
    expect(order).toEqual([2, 0, 1]);
    expect(waits).toEqual([
      [0, 2],
      [1, 2],
    ]);
    expect(locked).toEqual([]);
  });

  it('names the ring of three and not the one that waits behind it; both stand last', () => {
    const { order, locked } = orderRemoval(
      matrix([0, 1, 0, 0, 0], [0, 0, 1, 0, 0], [1, 0, 0, 0, 0], [1, 0, 0, 0, 0], [0, 0, 0, 0, 0]),
      5,
    );
    expect(order[0]).toBe(4);
    expect(locked).toEqual([0, 1, 2]);
    expect([...order].sort()).toEqual([0, 1, 2, 3, 4]);
  });
});
