import type { Bench } from 'tinybench';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { buildTwins } from '../../src/core/mesh/buildTwins.ts';
import type { PreparedScan } from '../../src/core/mesh/PreparedScan.ts';
import { SurfaceContext } from '../../src/core/parting/SurfaceContext.ts';
import { suggestPartings } from '../../src/core/parting/suggest/suggestPartings.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';

/** A lumpy dome on its board, 200 mm across: 2 x 4 x `n`^2 / 2 triangles; every direction hides something. */
function lumpyDome(n: number): PreparedScan {
  const { positions: ball, indices } = openHalfSphere(100, n);
  const positions = ball.map((x, i) => {
    const at = i - (i % 3);
    // Nothing is moved at the height of the board, so that the rim stays on it.
    const wave = Math.sin(ball[at] * 0.11) * Math.cos(ball[at + 1] * 0.07 + ball[at + 2] * 0.05);
    return i % 3 === 2 ? x : x * (1 + 0.12 * wave);
  });
  const count = indices.length / 3;
  return {
    mesh: { positions, indices },
    twins: buildTwins(indices).twins,
    isSurface: new Uint8Array(count).fill(1),
    standsOnBoard: true,
    heightMm: 100,
    volumeMm3: null,
    filledAreaMm2: 0,
    openAreaMm2: 0,
    roughMm: 0,
    report: {
      triangles: count,
      vertices: positions.length / 3,
      components: 1,
      openEdges: 0,
      openLoops: 1,
      nonManifoldEdges: 0,
      sizeMm: [200, 200, 100],
      unit: 'mm',
      warnings: [],
      repairs: [],
    },
    marks: [],
    fileToBoard: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0],
  };
}

/** Adds the search for partings: two pieces on a million triangles to the first proposal and to the last, and all on 100 000. */
export function addSuggestBench(bench: Bench): void {
  const plan = newPlan('dome.stl');
  const million = lumpyDome(500);
  const surface = new SurfaceContext(million);
  bench.add(`first suggestion, two pieces, ${million.report.triangles} triangles`, async () => {
    const abort = new AbortController();
    try {
      await suggestPartings(million, surface, plan, [2], new Checkpoint(() => {}, abort.signal), () =>
        abort.abort(),
      );
    } catch (error) {
      if (!(error instanceof Error && error.name === 'AbortError')) throw error;
    }
  });
  bench.add(`all suggestions, two pieces, ${million.report.triangles} triangles`, async () => {
    await suggestPartings(million, surface, plan, [2], new Checkpoint());
  });
  const smaller = lumpyDome(158);
  const smallerSurface = new SurfaceContext(smaller);
  bench.add(`all suggestions, 2, 3 and 4 pieces, ${smaller.report.triangles} triangles`, async () => {
    await suggestPartings(smaller, smallerSurface, plan, [2, 3, 4], new Checkpoint());
  });
}
