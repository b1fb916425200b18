import { Checkpoint } from '../../src/core/checkpoint.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { hideFaces } from '../../src/core/parting/undercut/hideFaces.ts';
import { measureUndercut, type UndercutInput } from '../../src/core/parting/undercut/measureUndercut.ts';
import { frameOf } from '../../src/core/parting/undercut/PullFrame.ts';
import { undercutInput } from '../core/parting/undercut/labelledCut.ts';
import { octasphere, turned } from '../fixtures/shapes.ts';

/** Pixels across the body for one direction over a million triangles. */
const PIXELS_ACROSS = 1024;

/** Work for the bench: a name and what is timed; made on the first call, so that only what runs is built. */
export interface BenchEntry {
  readonly name: string;
  readonly run: () => Promise<unknown>;
}

/** One direction over a million triangles, and all undercuts of a sphere of 100 000 in two pieces: parted at its middle, and 20 mm off. */
export function undercutBench(): BenchEntry[] {
  let million: TriMesh | undefined;
  const inputs = new Map<number, UndercutInput>();
  const sphereParted = (offsetMm: number): UndercutInput => {
    let input = inputs.get(offsetMm);
    if (input === undefined) {
      input = undercutInput({
        mesh: octasphere(100, 112),
        pulls: [
          [1, 0, 0],
          [-1, 0, 0],
        ],
        labelOf: (x) => (x > offsetMm ? 0 : 1),
        shellMm: 10,
      });
      inputs.set(offsetMm, input);
    }
    return input;
  };
  return [
    {
      name: 'one direction, every face sorted, 1 002 528 triangles',
      run: async () => {
        million ??= turned(octasphere(100, 354), [1, 2, 3], 0.7);
        hideFaces(million.positions, million.indices, frameOf([0.3, 0.5, 0.8]), 200 / PIXELS_ACROSS);
      },
    },
    ...[0, -20].map((offsetMm) => ({
      name: `undercuts of 100 352 triangles in two pieces, parted ${-offsetMm} mm off the middle`,
      run: () => measureUndercut(sphereParted(offsetMm), new Checkpoint()),
    })),
  ];
}
