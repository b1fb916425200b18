import { MeshError } from '../errors.ts';
import type { FileSurface } from './describeFile.ts';
import { dropDegenerate } from './dropDegenerate.ts';
import { dropDuplicates } from './dropDuplicates.ts';
import { dropFins } from './dropFins.ts';
import { EdgeTable } from './EdgeTable.ts';
import { nextInTri, previousInTri } from './halfEdges.ts';
import type { Parts } from './labelParts.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import { orientFaces, orientManifold } from './orientFaces.ts';
import { sayLength } from './sayLength.ts';
import type { TriMesh } from './TriMesh.ts';
import { weldNear } from './weldNear.ts';

/**
 * A sound surface in millimetres: cracks welded, faces without area, duplicates and fins gone, sheets parted where they met in
 * an edge or a point, every component wound outward. What was done goes into the notes. Throws MeshError degenerate when
 * no face is left. O(n).
 *
 * `file`: what was found about the same triangles; steps that it shows to have nothing to do are passed over.
 */
export function cleanSurface(
  input: TriMesh,
  file: Pick<FileSurface, 'table' | 'twins' | 'components' | 'openEdges' | 'nonManifoldEdges'>,
  notes: NoteBook,
): { mesh: TriMesh; twins: Int32Array; parts: Parts } {
  let mesh = input;
  let table = file.table;
  let duplicates = 0;
  // Every edge has at most two faces, and these are wound alike: no fins, nothing to part or to turn over singly.
  const isManifold = (): boolean => file.nonManifoldEdges === 0 && table === file.table;
  const dropAgain = (): void => {
    const single = dropDuplicates(mesh.indices, table);
    if (single.dropped === 0) return;
    duplicates += single.dropped;
    notes.markedFaces('duplicate-faces-dropped', mesh, single.tris);
    mesh = { positions: mesh.positions, indices: single.indices };
    table = new EdgeTable(mesh.indices);
  };
  // Before the weld, because a face and its duplicate hide an open edge from it; and after, because it may make new ones.
  if (!isManifold() || hasPillows(mesh.indices, file.twins)) dropAgain();
  const near =
    file.openEdges === 0 && isManifold()
      ? { mesh, welded: 0, toleranceMm: 0, weldedAt: new Float64Array(0) }
      : weldNear(mesh, table);
  notes.repaired(
    'welded-near',
    (system) =>
      `${countOf(near.welded, 'vertex', 'vertices')} on open edges within ${sayLength(near.toleranceMm, system)} of another welded to it.`,
    near.welded,
  );
  notes.markedSpots('welded-near', near.weldedAt);
  const sound = dropDegenerate(near.mesh);
  notes.repaired(
    'not-finite-dropped',
    `${countOf(sound.notFinite, 'face')} with a coordinate that is no number dropped.`,
    sound.notFinite,
  );
  notes.repaired('zero-area-dropped', `${countOf(sound.flat, 'face')} without area dropped.`, sound.flat);
  if (sound.flat > 0) notes.markedSpots('zero-area-dropped', sound.flatAt);
  if (sound.mesh.indices.length === 0) {
    throw new MeshError(
      'degenerate',
      'No face of the scan has an area: all its points lie on a line or in one spot. Export it again.',
    );
  }
  if (sound.mesh !== mesh) {
    mesh = sound.mesh;
    table = new EdgeTable(mesh.indices);
    dropAgain();
  }
  notes.repaired(
    'duplicate-faces-dropped',
    `${countOf(duplicates, 'face')} on the same three vertices as another dropped.`,
    duplicates,
  );
  const finless = isManifold()
    ? { indices: mesh.indices, dropped: 0, tris: [] }
    : dropFins(mesh.indices, table);
  notes.repaired(
    'fins-dropped',
    `${countOf(finless.dropped, 'face')} that stuck out from an edge where two others meet dropped.`,
    finless.dropped,
  );
  if (finless.dropped > 0) {
    notes.markedFaces('fins-dropped', mesh, finless.tris);
    mesh = { positions: mesh.positions, indices: finless.indices };
    table = new EdgeTable(mesh.indices);
  }
  const crowded = isManifold() ? NO_EDGES : crowdedEdges(mesh, table);
  const oriented =
    (isManifold() ? orientManifold(mesh, file.twins, file.components === 1) : null) ??
    orientFaces(mesh, table);
  notes.repaired(
    'non-manifold-parted',
    `${countOf(crowded.count, 'edge')} of more than two faces: the sheets that met there were parted.`,
    crowded.count,
  );
  notes.markedSpots('non-manifold-parted', crowded.points, crowded.edges);
  if (crowded.count === 0) {
    notes.repaired(
      'touching-parted',
      `${countOf(oriented.parted, 'vertex', 'vertices')} where sheets met in a point doubled, so that they part.`,
      oriented.parted,
    );
    notes.markedSpots('touching-parted', oriented.partedAt);
  }
  notes.repaired(
    'unjoinable-dropped',
    `${countOf(oriented.dropped, 'face')} that could not be joined to one side dropped.`,
    oriented.dropped,
  );
  const { droppedMesh } = oriented;
  notes.markedFaces(
    'unjoinable-dropped',
    droppedMesh,
    Array.from({ length: oriented.dropped }, (_, t) => t),
  );
  notes.repaired(
    'faces-turned',
    `${countOf(oriented.turned, 'face')} turned to face outward with the others.`,
    oriented.turned,
  );
  // A scan that is inside out altogether has no place to point at.
  if (2 * oriented.turned < mesh.indices.length / 3) {
    notes.markedFaces('faces-turned', mesh, oriented.turnedTris);
  }
  return { mesh: oriented.mesh, twins: oriented.twins, parts: oriented.parts };
}

/**
 * Whether two faces on the same three vertices make up a part of their own, which is the only way in which a face can repeat
 * another where no edge has more than two: they share all edges, so one of each face is enough to ask.
 */
function hasPillows(indices: Uint32Array, twins: Int32Array): boolean {
  for (let e = 0; e < twins.length; e += 3) {
    const o = twins[e];
    if (o > e && indices[e + 2] === indices[previousInTri(o)]) return true;
  }
  return false;
}

interface CrowdedEdges {
  readonly count: number;
  readonly points: Float64Array;
  readonly edges: Float64Array;
}

const NO_EDGES: CrowdedEdges = { count: 0, points: new Float64Array(0), edges: new Float64Array(0) };

/** Edges of three and more faces: how many, their middles (n x 3) and their ends (n x 6). */
function crowdedEdges(mesh: TriMesh, table: EdgeTable): CrowdedEdges {
  const points: number[] = [];
  const edges: number[] = [];
  const { positions: p, indices } = mesh;
  for (let edge = 0; edge < table.count; edge++) {
    const e = table.first[edge];
    const second = table.next[e];
    if (second < 0 || table.next[second] < 0) continue;
    const a = 3 * indices[e];
    const b = 3 * indices[nextInTri(e)];
    for (let k = 0; k < 3; k++) points.push((p[a + k] + p[b + k]) / 2);
    edges.push(p[a], p[a + 1], p[a + 2], p[b], p[b + 1], p[b + 2]);
  }
  return { count: points.length / 3, points: Float64Array.from(points), edges: Float64Array.from(edges) };
}
