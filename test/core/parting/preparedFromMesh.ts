import type { PreparedScan } from '../../../src/core/mesh/PreparedScan.ts';
import { boundingBox, type TriMesh } from '../../../src/core/mesh/TriMesh.ts';

/** A prepared scan around a clean mesh, for tests of what comes after the preparing. `isCap`: triangles that stand on the board. */
export function preparedFromMesh(
  mesh: TriMesh,
  standsOnBoard: boolean,
  isCap: (tri: number) => boolean = () => false,
): PreparedScan {
  const { indices } = mesh;
  const twins = new Int32Array(indices.length).fill(-1);
  const known = new Map<string, number>();
  for (let h = 0; h < indices.length; h++) {
    const a = indices[h];
    const b = indices[h % 3 === 2 ? h - 2 : h + 1];
    const over = known.get(`${b},${a}`);
    if (over !== undefined) {
      twins[h] = over;
      twins[over] = h;
    }
    known.set(`${a},${b}`, h);
  }
  const isSurface = Uint8Array.from({ length: indices.length / 3 }, (_, t) => (isCap(t) ? 0 : 1));
  const box = boundingBox(mesh);
  return {
    mesh,
    twins,
    isSurface,
    standsOnBoard,
    heightMm: box.max[2] - box.min[2],
    volumeMm3: null,
    filledAreaMm2: 0,
    openAreaMm2: 0,
    roughMm: 0,
    report: {
      triangles: indices.length / 3,
      vertices: mesh.positions.length / 3,
      components: 1,
      openEdges: 0,
      openLoops: 0,
      nonManifoldEdges: 0,
      sizeMm: [box.max[0] - box.min[0], box.max[1] - box.min[1], box.max[2] - box.min[2]],
      unit: 'mm',
      warnings: [],
      repairs: [],
    },
    marks: [],
    fileToBoard: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0],
  };
}
