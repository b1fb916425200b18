import { MeshoptSimplifier } from 'meshoptimizer/simplifier';
import { buildTwins } from '../../mesh/buildTwins.ts';
import type { PreparedScan } from '../../mesh/PreparedScan.ts';
import type { SurfaceContext } from '../SurfaceContext.ts';
import { findFlaws } from './findFlaws.ts';

/** S with fewer triangles, good for comparing directions and for laying first lines. */
export interface SimpleSurface {
  /**
   * The simple surface as a scan of its own, without base cap: every triangle belongs to S. Report, marks and repairs are
   * those of the full scan; the height is its own.
   */
  readonly scan: PreparedScan;
  /** By vertex: the vertex of the full scan that stands at exactly the same place. */
  readonly sourceVert: Int32Array;
}

/** Enough for pulls and first lines: faces of 1.6 % of a body's size. */
export const SIMPLE_TRIS = 12_000;

/** A large mesh is first brought to this many times the goal: what goes wrong later is then mended on few triangles. */
const FIRST_STAGE = 5;

/** Rings of vertices that are held in place round a flaw, attempt by attempt. */
const HELD_RINGS = [1, 2, 3, 5, 8, 12];

/**
 * S (the base cap left out) with at most about `targetTris` triangles, by edge collapse with quadric errors (Garland &
 * Heckbert, Surface Simplification Using Quadric Error Metrics, 1997; by meshoptimizer).
 *
 * Vertices are a subset of the scan's: those of a rim on the board stay at exactly z = 0. Topology is kept: where a
 * collapse pinches the surface all the same (the package does not look for that), it is done again with the vertices
 * around held in place, so that the result is a manifold wherever S is one. That, and small parts, can leave somewhat
 * more triangles than asked. A surface that has no more is returned as it is. Cost: 1.4 to 2.5 s for 1 M triangles.
 */
export async function simplifySurface(
  surface: SurfaceContext,
  targetTris: number = SIMPLE_TRIS,
): Promise<SimpleSurface> {
  const whole = surfaceAlone(surface);
  if (whole.indices.length / 3 <= targetTris) return asScan(surface.scan, whole);
  await MeshoptSimplifier.ready;
  const between = FIRST_STAGE * targetTris;
  const first = whole.indices.length / 3 > 2 * between ? collapseEdges(whole, between) : whole;
  return asScan(surface.scan, collapseEdges(first, targetTris));
}

interface Subset {
  readonly positions: Float64Array;
  readonly indices: Uint32Array;
  readonly sourceVert: Int32Array;
}

/** Collapses until the result has no flaw; the mesh itself when no attempt gets there. */
function collapseEdges(mesh: Subset, targetTris: number): Subset {
  const { positions, indices } = mesh;
  const single = toUnitBox(positions);
  const held = new Uint8Array(positions.length / 3);
  const noAttributes = new Float32Array(0);
  // The error is not what ends the collapse: the number of triangles is.
  const anyError = 1;
  for (let attempt = 0; attempt <= HELD_RINGS.length; attempt++) {
    const target = 3 * Math.min(targetTris, indices.length / 3);
    // Holding vertices in place is the other call's alone, which takes twice as long.
    const [kept] =
      attempt === 0
        ? MeshoptSimplifier.simplify(indices, single, 3, target, anyError)
        : MeshoptSimplifier.simplifyWithAttributes(
            indices,
            single,
            3,
            noAttributes,
            0,
            [],
            held,
            target,
            anyError,
          );
    const result = compactSubset(mesh, kept);
    const flaws = findFlaws(result.subset);
    if (flaws.length === 0) return result.subset;
    if (attempt < HELD_RINGS.length) {
      holdRings(
        indices,
        held,
        flaws.map((v) => result.from[v]),
        HELD_RINGS[attempt],
      );
    }
  }
  return mesh;
}

/** Marks the vertices and those that so many edges lead to. */
function holdRings(indices: Uint32Array, held: Uint8Array, verts: readonly number[], rings: number): void {
  let reached = new Uint8Array(held.length);
  for (const v of verts) reached[v] = 1;
  for (let ring = 0; ring < rings; ring++) {
    const next = reached.slice();
    for (let i = 0; i < indices.length; i += 3) {
      const a = indices[i];
      const b = indices[i + 1];
      const c = indices[i + 2];
      if ((reached[a] | reached[b] | reached[c]) === 0) continue;
      next[a] = 1;
      next[b] = 1;
      next[c] = 1;
    }
    reached = next;
  }
  for (let v = 0; v < held.length; v++) held[v] |= reached[v];
}

/** Single precision is all the package takes; about the middle and in units of the size nothing is lost that matters. */
function toUnitBox(positions: Float64Array): Float32Array {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      min[k] = Math.min(min[k], positions[i + k]);
      max[k] = Math.max(max[k], positions[i + k]);
    }
  }
  const size = Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  const out = new Float32Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    for (let k = 0; k < 3; k++) out[i + k] = (positions[i + k] - (min[k] + max[k]) / 2) / size;
  }
  return out;
}

function surfaceAlone(surface: SurfaceContext): Subset {
  const { positions, indices, isSurface, vertCount } = surface;
  const kept = new Uint32Array(indices.length);
  let n = 0;
  for (let i = 0; i < indices.length; i++) if (isSurface[(i / 3) | 0]) kept[n++] = indices[i];
  const sourceVert = Int32Array.from({ length: vertCount }, (_, v) => v);
  return compactSubset({ positions, indices, sourceVert }, kept.subarray(0, n)).subset;
}

/** Only the vertices that `indices` use, in their order; `from`: where each stood. */
function compactSubset(mesh: Subset, indices: Uint32Array): { subset: Subset; from: Int32Array } {
  const count = mesh.positions.length / 3;
  const to = new Int32Array(count).fill(-1);
  for (let i = 0; i < indices.length; i++) to[indices[i]] = 0;
  let used = 0;
  for (let v = 0; v < count; v++) if (to[v] === 0) to[v] = used++;
  const from = new Int32Array(used);
  const positions = new Float64Array(3 * used);
  const sourceVert = new Int32Array(used);
  for (let v = 0; v < count; v++) {
    const w = to[v];
    if (w < 0) continue;
    from[w] = v;
    sourceVert[w] = mesh.sourceVert[v];
    positions[3 * w] = mesh.positions[3 * v];
    positions[3 * w + 1] = mesh.positions[3 * v + 1];
    positions[3 * w + 2] = mesh.positions[3 * v + 2];
  }
  const renamed = new Uint32Array(indices.length);
  for (let i = 0; i < renamed.length; i++) renamed[i] = to[indices[i]];
  return { subset: { positions, indices: renamed, sourceVert }, from };
}

function asScan(full: PreparedScan, { positions, indices, sourceVert }: Subset): SimpleSurface {
  let highest = 0;
  for (let i = 2; i < positions.length; i += 3) highest = Math.max(highest, positions[i]);
  const scan: PreparedScan = {
    ...full,
    mesh: { positions, indices },
    twins: buildTwins(indices).twins,
    isSurface: new Uint8Array(indices.length / 3).fill(1),
    heightMm: highest,
  };
  return { scan, sourceVert };
}
