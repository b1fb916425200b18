import { buildTwins } from './buildTwins.ts';
import { cornersOf } from './cornersOf.ts';
import type { KeptSide } from './cutByPlane.ts';
import { FlatFrame } from './FlatFrame.ts';
import { type FilledFlat, fillFlat } from './fillFlat.ts';
import { isFoot } from './isFoot.ts';
import { areaOfLoop, nestOutlines } from './nestOutlines.ts';
import { boundingBox, type TriMesh, type Vec3 } from './TriMesh.ts';
import { type CutOutline, traceCut } from './traceCut.ts';

/** A cut that looks down to within this of straight is level: what it opens may be the foot. Own choice. */
const LEVEL_COSINE = Math.cos(Math.PI / 18);

export interface CappedCut {
  /** The caps are the last triangles. */
  readonly mesh: TriMesh;
  readonly areaMm2: number;
  /** One a cap: its outer line, n x 3, and its faces as loose triangles, n x 9. */
  readonly caps: readonly { readonly points: Float64Array; readonly tris: Float64Array }[];
  /** Stretches of the caps' outlines that run straight across an open edge of the scan. */
  readonly straight: number;
  /** Outlines left open, n x 3 each: they cross or touch themselves or each other, or surround nothing. */
  readonly left: readonly Float64Array[];
}

/**
 * The mesh with what a cut left open closed by flats in the plane, looking along its normal.
 *
 * Left open, and not counted: a level cut a little above the board that looks down onto it, for it is the foot (isFoot), and
 * outlines wholly inside another's flat, which belong to parts inside the body. A cap that would not join the surface
 * soundly is left away, and its outline told as left.
 */
export function capCut(cut: TriMesh, side: KeptSide, snapMm: number, standsOnBoard: boolean): CappedCut {
  const { twins, nonManifoldEdges } = buildTwins(cut.indices);
  const frame = new FlatFrame(side);
  const traced = traceCut(cut, twins, side, snapMm, standsOnBoard);
  const { mesh } = traced;
  const outlines = traced.outlines.filter(({ verts }) => verts.length > 2);
  const loops = outlines.map(({ verts }) => verts.map((v) => frame.placeOf(mesh, v)));
  const { groups, unsound } = nestOutlines(loops);
  const left = unsound.map((n) => pointsOf(mesh, outlines[n]));
  const box = standsOnBoard && -side.normal[2] >= LEVEL_COSINE ? boundingBox(mesh) : null;
  const caps: Cap[] = [];
  for (const { outer, openings } of groups) {
    const members = [outer, ...openings].map((n) => outlines[n]);
    if (box !== null && isFoot(openingOf(mesh, members[0], areaOfLoop(loops[outer]), side), box)) continue;
    const flat = fillFlat([outer, ...openings].map((n) => loops[n]));
    if (flat === null) left.push(...members.map((outline) => pointsOf(mesh, outline)));
    else caps.push({ members, flat });
  }
  const isSound = (made: TriMesh): boolean => buildTwins(made.indices).nonManifoldEdges <= nonManifoldEdges;
  // All at once as a rule; one by one where some cap would share an edge with the surface.
  let capped = layCaps(mesh, caps, frame);
  let laid = caps;
  if (!isSound(capped)) {
    capped = mesh;
    laid = [];
    for (const cap of caps) {
      const made = layCaps(capped, [cap], frame);
      if (isSound(made)) {
        capped = made;
        laid.push(cap);
      } else left.push(...cap.members.map((outline) => pointsOf(mesh, outline)));
    }
  }
  let end = mesh.indices.length;
  return {
    mesh: capped,
    areaMm2: laid.reduce((sum, { flat }) => sum + flat.area, 0),
    caps: laid.map(({ members, flat }) => {
      const from = end;
      end += 3 * flat.tris.length;
      return {
        points: pointsOf(mesh, members[0]),
        tris: cornersOf(capped, capped.indices.subarray(from, end)),
      };
    }),
    straight: laid.reduce(
      (sum, { members }) => sum + members.reduce((n, { straight }) => n + straight, 0),
      0,
    ),
    left,
  };
}

/** A flat and the outlines that it fills, the outer one first. */
interface Cap {
  readonly members: readonly CutOutline[];
  readonly flat: FilledFlat;
}

/** The mesh with the caps as its last triangles, in their order. */
function layCaps(mesh: TriMesh, caps: readonly Cap[], frame: FlatFrame): TriMesh {
  if (caps.length === 0) return mesh;
  const positions = [mesh.positions];
  const indices: Uint32Array[] = [mesh.indices];
  let vertCount = mesh.positions.length / 3;
  for (const { members, flat } of caps) {
    const verts = members.flatMap((outline) => outline.verts);
    const first = vertCount - verts.length;
    positions.push(Float64Array.from(flat.added.flatMap((place) => frame.pointAt(place))));
    indices.push(Uint32Array.from(flat.tris.flat(), (n) => (n < verts.length ? verts[n] : first + n)));
    vertCount += flat.added.length;
  }
  return { positions: joinFloats(positions), indices: joinIndices(indices) };
}

function joinFloats(parts: readonly Float64Array[]): Float64Array {
  const out = new Float64Array(parts.reduce((sum, part) => sum + part.length, 0));
  parts.reduce((at, part) => {
    out.set(part, at);
    return at + part.length;
  }, 0);
  return out;
}

function joinIndices(parts: readonly Uint32Array[]): Uint32Array {
  const out = new Uint32Array(parts.reduce((sum, part) => sum + part.length, 0));
  parts.reduce((at, part) => {
    out.set(part, at);
    return at + part.length;
  }, 0);
  return out;
}

function pointsOf({ positions: p }: TriMesh, { verts }: CutOutline): Float64Array {
  return Float64Array.from(verts.flatMap((v) => [p[3 * v], p[3 * v + 1], p[3 * v + 2]]));
}

/** What isFoot asks of an opening. */
function openingOf(
  { positions: p }: TriMesh,
  { verts }: CutOutline,
  area: number,
  { normal }: KeptSide,
): { min: Vec3; max: Vec3; lid: Vec3 } {
  const heights = verts.map((v) => p[3 * v + 2]);
  const min: Vec3 = [-Infinity, -Infinity, heights.reduce((low, z) => Math.min(low, z), Infinity)];
  const max: Vec3 = [Infinity, Infinity, heights.reduce((top, z) => Math.max(top, z), -Infinity)];
  return { min, max, lid: [area * normal[0], area * normal[1], area * normal[2]] };
}
