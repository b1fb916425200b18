/** A corner this near to the board, mm, stands on it: scans are clipped at z = 0 to rounding. */
const ON_BOARD_MM = 1e-6;

/** A surface whose places do not change any more. */
interface Surface {
  readonly positions: Float64Array;
  readonly indices: Uint32Array;
}

const known = new WeakMap<Surface, number>();

/**
 * Length of the outline with which a surface stands on its board, mm: of the edges in z = 0 of triangles that rise from it
 * (a face that lies on the board has no say). 0 where it does not reach the board. Kept with the surface, since every
 * answer about it asks.
 *
 * @param surface board frame, mm.
 * Cost: one look at every edge, once.
 */
export function measureFoot(surface: Surface): number {
  let lengthMm = known.get(surface);
  if (lengthMm === undefined) {
    lengthMm = sumFoot(surface);
    known.set(surface, lengthMm);
  }
  return lengthMm;
}

function sumFoot({ positions, indices }: Surface): number {
  let lengthMm = 0;
  for (let tri = 0; tri < indices.length; tri += 3) {
    for (let k = 0; k < 3; k++) {
      const a = 3 * indices[tri + k];
      const b = 3 * indices[tri + ((k + 1) % 3)];
      const c = 3 * indices[tri + ((k + 2) % 3)];
      if (Math.abs(positions[a + 2]) > ON_BOARD_MM || Math.abs(positions[b + 2]) > ON_BOARD_MM) continue;
      if (Math.abs(positions[c + 2]) <= ON_BOARD_MM) continue;
      lengthMm += Math.hypot(positions[b] - positions[a], positions[b + 1] - positions[a + 1]);
    }
  }
  return lengthMm;
}
