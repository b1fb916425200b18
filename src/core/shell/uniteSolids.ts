import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import { PlanError } from '../errors.ts';
import { buildTwins } from '../mesh/buildTwins.ts';
import { compactVerts } from '../mesh/compactVerts.ts';
import { keepTris } from '../mesh/keepTris.ts';
import { labelParts } from '../mesh/labelParts.ts';
import { signedVolume } from '../mesh/measure.ts';
import type { TriMesh } from '../mesh/TriMesh.ts';
import { traceLoops } from '../mesh/traceLoops.ts';
import { checkSolid, flattenBase, loadSolids, meshOf, solidOf } from './solidLibrary.ts';
import { soundMesh } from './soundMesh.ts';

export interface UnitedSolids {
  /** The union, closed, wound outward; on a board its base is a cap exactly in z = 0. */
  readonly mesh: TriMesh;
  /** Of the body alone. */
  readonly bodyMm3: number;
  /**
   * Of the union, mm3. Hollows that the parts shut off are filled and parts that touch nothing left out, so that it may
   * differ from the sum of the following.
   */
  readonly volumeMm3: number;
  /** By part: what it adds to the body and the parts before it, mm3. */
  readonly addedMm3: readonly number[];
  /** The parts themselves, cut off at the board; closed, together in one mesh. */
  readonly parts: TriMesh;
}

/**
 * A body and parts as one solid, by manifold-3d (its WebAssembly core alone; fetched from the program's own files on the
 * first use, so that nobody pays for it before).
 *
 * @param body closed, or open exactly on z = 0 when it stands on a board. Wound outward.
 * @param parts closed solids, wound outward; they may overlap each other and the body.
 * @param standsOnBoard cut the parts off at z = 0, and close the body there.
 * @throws PlanError 'bad-plan' -> the body, or a part, is no closed solid to the library, or the union is empty.
 * Cost: about 0.5 s for a body of 100 000 triangles, O(n log n); positions come back in single precision. The memory of
 *   WebAssembly never shrinks, so that each call has an instance of its own, which goes with it.
 */
export async function uniteSolids(
  body: TriMesh,
  parts: readonly TriMesh[],
  standsOnBoard: boolean,
): Promise<UnitedSolids> {
  const library = await loadSolids();
  const bin: Manifold[] = [];
  const keep = (solid: Manifold): Manifold => {
    bin.push(solid);
    return solid;
  };
  try {
    const closed = standsOnBoard ? capOnBoard(library, body) : body;
    let sum = keep(toSolid(library, closed, 'The rubber'));
    const bodyMm3 = sum.volume();
    let before = bodyMm3;
    const addedMm3: number[] = [];
    const trimmed: TriMesh[] = [];
    for (const part of parts) {
      let solid = keep(toSolid(library, part, 'A filler'));
      let mesh = part;
      if (standsOnBoard) {
        mesh = flattenBase(meshOf(keep(solid.trimByPlane([0, 0, 1], 0))));
        solid = keep(toSolid(library, mesh, 'A filler'));
      }
      trimmed.push(mesh);
      sum = keep(sum.add(solid));
      checkSolid(sum, (said) => notSolid('Rubber and filler together', said));
      const after = sum.volume();
      addedMm3.push(after - before);
      before = after;
    }
    const made = meshOf(sum);
    const mesh = soundMesh(outerParts(standsOnBoard ? flattenBase(made) : made, body));
    return { mesh, volumeMm3: signedVolume(mesh), bodyMm3, addedMm3, parts: joinMeshes(trimmed) };
  } finally {
    for (const solid of bin) solid.delete();
  }
}

/** The library's solid of a mesh. Throws PlanError 'bad-plan' naming `what` when it is none. */
function toSolid(library: ManifoldToplevel, mesh: TriMesh, what: string): Manifold {
  return solidOf(library, mesh, (said) => notSolid(what, said));
}

function notSolid(what: string, said: string): PlanError {
  return new PlanError(
    'bad-plan',
    `${what} is no closed solid (${said}), so that no filler can be joined to it. Raise the limit for filling holes or crop the scan, or go on without filler; nothing else of the plan is touched.`,
    'parting.blockOut',
  );
}

/**
 * Without parts that hold no corner of the body (they float beside it), and without parts wound inward (hollows that the
 * parts shut off: nobody can lay a shell in there). The mesh itself when there are none.
 */
function outerParts(mesh: TriMesh, body: TriMesh): TriMesh {
  const { parts, partCount } = labelParts(buildTwins(mesh.indices).twins);
  if (partCount === 1) return mesh;
  const corners = new Set<string>();
  const p = mesh.positions;
  const b = body.positions;
  for (let v = 0; v < b.length; v += 3) {
    corners.add(`${Math.fround(b[v])} ${Math.fround(b[v + 1])} ${Math.fround(b[v + 2])}`);
  }
  const isOfBody = new Uint8Array(partCount);
  const volumes = new Float64Array(partCount);
  for (let t = 0; t < parts.length; t++) {
    const tri = mesh.indices.subarray(3 * t, 3 * t + 3);
    volumes[parts[t]] += signedVolume({ positions: p, indices: tri });
    for (const v of tri) {
      if (isOfBody[parts[t]]) break;
      if (corners.has(`${p[3 * v]} ${p[3 * v + 1]} ${p[3 * v + 2]}`)) isOfBody[parts[t]] = 1;
    }
  }
  const isKept = Uint8Array.from(parts, (part) => (isOfBody[part] && volumes[part] > 0 ? 1 : 0));
  return compactVerts({ positions: p, indices: keepTris(mesh.indices, isKept) });
}

/** The mesh with its loops on the board closed by a flat cap that faces down; the mesh itself when it has none. */
function capOnBoard(library: ManifoldToplevel, mesh: TriMesh): TriMesh {
  const { indices, positions } = mesh;
  const loops = traceLoops(buildTwins(indices).twins);
  if (loops.length === 0) return mesh;
  const verts: number[] = [];
  // Seen from above a loop has the body on its left, which is the library's sense of a polygon.
  const polygons = loops.map((loop) =>
    Array.from(loop, (half): [number, number] => {
      const v = indices[half];
      verts.push(v);
      return [positions[3 * v], positions[3 * v + 1]];
    }),
  );
  let faces: ArrayLike<readonly number[]>;
  try {
    faces = library.triangulate(polygons);
  } catch (error) {
    throw notSolid('The base of the rubber', error instanceof Error ? error.message : String(error));
  }
  const out = new Uint32Array(indices.length + 3 * faces.length);
  out.set(indices);
  for (let f = 0; f < faces.length; f++) {
    const [a, b, c] = faces[f];
    out.set([verts[a], verts[c], verts[b]], indices.length + 3 * f);
  }
  return { positions, indices: out };
}

function joinMeshes(meshes: readonly TriMesh[]): TriMesh {
  const positions = new Float64Array(meshes.reduce((sum, mesh) => sum + mesh.positions.length, 0));
  const indices = new Uint32Array(meshes.reduce((sum, mesh) => sum + mesh.indices.length, 0));
  let at = 0;
  let next = 0;
  for (const mesh of meshes) {
    positions.set(mesh.positions, at);
    for (let i = 0; i < mesh.indices.length; i++) indices[next + i] = mesh.indices[i] + at / 3;
    at += mesh.positions.length;
    next += mesh.indices.length;
  }
  return { positions, indices };
}
