import type { Bench } from 'tinybench';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { buildTwins } from '../../src/core/mesh/buildTwins.ts';
import type { PreparedScan } from '../../src/core/mesh/PreparedScan.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { directionGrid, GRID_STEP_DEG } from '../../src/core/parting/pulls/directionGrid.ts';
import { simplifySurface } from '../../src/core/parting/pulls/simplifySurface.ts';
import { sweepFaces } from '../../src/core/parting/pulls/sweepFaces.ts';
import { SurfaceContext } from '../../src/core/parting/SurfaceContext.ts';
import { octasphere } from '../fixtures/shapes.ts';

/** A lumpy ball of 1 002 528 triangles, 200 mm across, so that every direction hides something. */
function lumpyBall(): TriMesh {
  const { positions: ball, indices } = octasphere(100, 354);
  const positions = ball.map((x, i) => {
    const at = i - (i % 3);
    const wave = Math.sin(ball[at] * 0.11) * Math.cos(ball[at + 1] * 0.07 + ball[at + 2] * 0.05);
    return x * (1 + 0.12 * wave);
  });
  return { positions, indices };
}

function asScan(mesh: TriMesh): PreparedScan {
  const count = mesh.indices.length / 3;
  return {
    mesh,
    twins: buildTwins(mesh.indices).twins,
    isSurface: new Uint8Array(count).fill(1),
    standsOnBoard: false,
    heightMm: 200,
    volumeMm3: null,
    filledAreaMm2: 0,
    openAreaMm2: 0,
    roughMm: 0,
    report: {
      triangles: count,
      vertices: mesh.positions.length / 3,
      components: 1,
      openEdges: 0,
      openLoops: 0,
      nonManifoldEdges: 0,
      sizeMm: [200, 200, 200],
      unit: 'mm',
      warnings: [],
      repairs: [],
    },
    marks: [],
    fileToBoard: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0],
  };
}

/** Adds what the search for pulls costs on 1 million triangles: simplifying once, then every direction over a board. */
export async function addPullsBench(bench: Bench): Promise<void> {
  const surface = new SurfaceContext(asScan(lumpyBall()));
  const simple = await simplifySurface(surface);
  const directions = directionGrid(true, GRID_STEP_DEG);
  bench.add('1 002 528 triangles simplified for the search of pulls', async () => {
    await simplifySurface(surface);
  });
  bench.add(`${directions.length / 3} directions looked along, on the simplified surface`, async () => {
    await sweepFaces(simple.scan.mesh, directions, new Checkpoint(), true);
  });
}
