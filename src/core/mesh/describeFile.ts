import { MeshError } from '../errors.ts';
import { buildTwins } from './buildTwins.ts';
import { EdgeTable } from './EdgeTable.ts';
import { boundingBox, type TriMesh, type Vec3 } from './TriMesh.ts';
import { traceLoops } from './traceLoops.ts';
import { weldExact } from './weldExact.ts';

/** What the file holds, exactly equal vertices made one and nothing else changed. */
export interface FileSurface {
  readonly mesh: TriMesh;
  readonly table: EdgeTable;
  /** See buildTwins. */
  readonly twins: Int32Array;
  readonly welded: number;
  readonly triangles: number;
  readonly vertices: number;
  /** Sets of faces joined by shared vertices. */
  readonly components: number;
  readonly openEdges: number;
  readonly openLoops: number;
  readonly nonManifoldEdges: number;
  /** In the file's unit and axes. */
  readonly size: Vec3;
}

/** Counts of the file as read, after the exact weld. Throws MeshError no-faces. O(n). */
export function describeFile(input: TriMesh): FileSurface {
  if (input.indices.length === 0) {
    throw new MeshError('no-faces', 'The file holds no faces. Export the scan as a surface, not as points.');
  }
  const { mesh, welded } = weldExact(input);
  const table = new EdgeTable(mesh.indices);
  const { twins, nonManifoldEdges, openEdges } = buildTwins(mesh.indices, table);
  const box = boundingBox(mesh);
  return {
    mesh,
    table,
    twins,
    welded,
    triangles: input.indices.length / 3,
    vertices: mesh.positions.length / 3,
    components: countComponents(mesh),
    openEdges,
    openLoops: openEdges === 0 ? 0 : countOpenLoops(table, twins),
    nonManifoldEdges,
    size: [box.max[0] - box.min[0], box.max[1] - box.min[1], box.max[2] - box.min[2]],
  };
}

/** Loops of the border. Edges that are not manifold have no twin either, so loops that run over them are not holes. */
function countOpenLoops(table: EdgeTable, twins: Int32Array): number {
  const isOpen = new Uint8Array(twins.length);
  for (let edge = 0; edge < table.count; edge++) {
    if (table.next[table.first[edge]] < 0) isOpen[table.first[edge]] = 1;
  }
  return traceLoops(twins).filter((loop) => isOpen[loop[0]]).length;
}

/** Sets of faces joined by shared vertices, by union-find with path halving. */
function countComponents(mesh: TriMesh): number {
  const { indices } = mesh;
  const count = mesh.positions.length / 3;
  const parent = new Int32Array(count);
  const isUsed = new Uint8Array(count);
  for (let v = 0; v < count; v++) parent[v] = v;
  let joined = 0;
  for (let t = 0; t < indices.length; t += 3) {
    let a = indices[t];
    isUsed[a] = 1;
    while (parent[a] !== a) a = parent[a] = parent[parent[a]];
    for (let i = t + 1; i < t + 3; i++) {
      let b = indices[i];
      isUsed[b] = 1;
      while (parent[b] !== b) b = parent[b] = parent[parent[b]];
      if (a === b) continue;
      if (a < b) parent[b] = a;
      else a = parent[a] = b;
      joined++;
    }
  }
  let used = 0;
  for (let v = 0; v < count; v++) used += isUsed[v];
  return used - joined;
}
