import type { Manifold } from 'manifold-3d';
import { buildTwins } from '../mesh/buildTwins.ts';
import { compactVerts } from '../mesh/compactVerts.ts';
import { keepTris } from '../mesh/keepTris.ts';
import { labelParts } from '../mesh/labelParts.ts';
import { signedVolume } from '../mesh/measure.ts';
import type { TriMesh } from '../mesh/TriMesh.ts';
import { weldExact } from '../mesh/weldExact.ts';
import { checkSolid, flattenBase, loadSolids, meshOf, solidOf } from './solidLibrary.ts';
import { soundMesh } from './soundMesh.ts';

/**
 * Bodies as one closed solid, by manifold-3d, cut off exactly at the board and good for a file of single precision: corners
 * that are equal there are one vertex, and every edge then has two faces that run it in opposite senses.
 *
 * @param bodies closed, wound outward; they may overlap.
 * @param standsOnBoard cut off what lies below z = 0; the solid then stands on a flat base in z = 0.
 * @param crumbMm3 separate parts and hollows no larger than this are left out.
 * @param slackMm corners that a surface does not need to keep within this of its place are left out.
 * @param fail makes the error of what is wrong.
 * @throws what `fail` makes: a body, their union or the finished mesh is no closed solid, or has no volume.
 * Cost: about 1.5 s for a million triangles.
 */
export async function closeSolid(
  bodies: readonly TriMesh[],
  standsOnBoard: boolean,
  crumbMm3: number,
  slackMm: number,
  fail: (said: string) => Error,
): Promise<TriMesh> {
  const library = await loadSolids();
  const bin: Manifold[] = [];
  const keep = (solid: Manifold): Manifold => {
    bin.push(solid);
    return solid;
  };
  try {
    let sum: Manifold | null = null;
    for (const body of bodies) {
      const solid = keep(solidOf(library, body, fail));
      sum = sum === null ? solid : keep(sum.add(solid));
      checkSolid(sum, fail);
    }
    if (sum === null) throw fail('it is empty');
    // Before the cut, which then leaves the base exactly flat.
    if (slackMm > 0) sum = keep(sum.simplify(slackMm));
    if (standsOnBoard) sum = keep(sum.trimByPlane([0, 0, 1], 0));
    checkSolid(sum, fail);
    const cut = meshOf(sum);
    const mesh = dropSmallParts(asInFile(standsOnBoard ? flattenBase(cut) : cut), crumbMm3);
    const fault = findFault(mesh);
    if (fault !== null) throw fail(fault);
    keep(solidOf(library, mesh, fail));
    return mesh;
  } finally {
    for (const solid of bin) solid.delete();
  }
}

/** What keeps a mesh from being one closed solid, in a few words; null when nothing does. O(n). */
export function findFault(mesh: TriMesh): string | null {
  if (mesh.indices.length === 0) return 'it is empty';
  const { openEdges, nonManifoldEdges } = buildTwins(mesh.indices);
  if (openEdges > 0) return `${openEdges} open edges`;
  if (nonManifoldEdges > 0)
    return `${nonManifoldEdges} edges of more than two faces, or of two the same way round`;
  if (!(signedVolume(mesh) > 0)) return 'its volume is not positive';
  return null;
}

/** As a reader of the file will have it: corners at the same place are one, faces that thereby lose a side are gone. */
function asInFile(mesh: TriMesh): TriMesh {
  const { mesh: welded } = weldExact(mesh);
  const { indices } = welded;
  const isKept = new Uint8Array(indices.length / 3);
  for (let t = 0; t < isKept.length; t++) {
    const a = indices[3 * t];
    const b = indices[3 * t + 1];
    const c = indices[3 * t + 2];
    isKept[t] = a !== b && b !== c && c !== a ? 1 : 0;
  }
  return soundMesh(compactVerts({ positions: welded.positions, indices: keepTris(indices, isKept) }));
}

function dropSmallParts(mesh: TriMesh, crumbMm3: number): TriMesh {
  const { parts, partCount } = labelParts(buildTwins(mesh.indices).twins);
  if (partCount <= 1) return mesh;
  const volumes = new Float64Array(partCount);
  for (let t = 0; t < parts.length; t++) {
    const indices = mesh.indices.subarray(3 * t, 3 * t + 3);
    volumes[parts[t]] += signedVolume({ positions: mesh.positions, indices });
  }
  const isKept = Uint8Array.from(parts, (part) => (Math.abs(volumes[part]) > crumbMm3 ? 1 : 0));
  return compactVerts({ positions: mesh.positions, indices: keepTris(mesh.indices, isKept) });
}
