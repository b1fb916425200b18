import type { Checkpoint } from '../../checkpoint.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';
import { DepthSearch } from './DepthSearch.ts';
import { findDepths, type SpotDepths } from './findDepths.ts';
import { findHidden, type HiddenFaces } from './findHidden.ts';
import { groupSpots, type SpotGroups } from './groupSpots.ts';
import { measureFiller, type ShadowFiller } from './measureFiller.ts';
import type { PieceCells } from './PieceCells.ts';
import type { PullPlan } from './PullPlan.ts';
import type { UndercutBody } from './UndercutBody.ts';
import { KIND_AWAY, KIND_BY_BOARD, KIND_BY_PIECE, type PieceUndercut, type Spot } from './UndercutStep.ts';
import type { WallDraft } from './wallDraft.ts';

/** Spots listed of a piece at most: more, no one goes through. */
export const MOST_SPOTS = 24;

/** Spots smaller than this share of the square of the body's size are counted, not listed: scan noise on upright faces. */
const NOISE_SHARE = 1e-6;
/**
 * A crack: its mean height (filler over area) is below the first share of the body's size and the second of its depth. No
 * shell gets into it, so nothing locks there; it counts in the area alone. A shallow undercut's mean height is a third of its depth.
 */
const CRACK_SHARE = 2e-4;
const CRACK_OF_DEPTH = 0.02;

/** What is painted on the cut surface; shared by all pieces, each writes its own triangles. */
export interface UndercutPaint {
  readonly triKind: Uint8Array;
  readonly triSpot: Int32Array;
  readonly cornerDepthMm: Float32Array;
}

export interface PieceInput {
  readonly body: UndercutBody;
  readonly region: number;
  readonly plan: PullPlan;
  readonly cells: PieceCells;
  readonly walls: WallDraft;
  readonly giveMm: number;
  /** By triangle of the cut surface: 1 where another piece's shell holds it; null where none does. */
  readonly held: Uint8Array | null;
  readonly paint: UndercutPaint;
  /** Number of spots listed of the pieces before. */
  readonly firstSpot: number;
}

export interface PieceMeasure {
  readonly piece: PieceUndercut;
  readonly spots: readonly Spot[];
}

/** All figures of one piece, its spots and its paint. Cost, limits: `measureUndercut` and the steps. */
export async function measurePiece(input: PieceInput, cp: Checkpoint): Promise<PieceMeasure> {
  const { body, region, plan, cells, paint } = input;
  const { frame, columns, verts } = plan;
  const found = await findHidden(
    body,
    region,
    frame,
    columns,
    paint.triKind,
    cp.within(0, 0.3, 'measuring the undercuts'),
  );
  const hidden = addHeld(input, found);
  if (hidden.tris.length === 0) return freePiece(input, hidden);
  const groups = groupSpots(body.cut, hidden.tris);
  const overBoard = body.standsOnBoard && frame.d[2] >= 0;
  const search = new DepthSearch(verts, body.indices, columns, body.diagonalMm, overBoard);
  const depths = await findDepths(
    body,
    frame,
    search,
    hidden.tris,
    groups,
    paint.cornerDepthMm,
    cp.within(0.3, 0.7, 'measuring how deep it locks'),
  );
  const spotOfCutTri = new Int32Array(body.cut.cutTriRegion.length).fill(-1);
  for (let n = 0; n < hidden.tris.length; n++) spotOfCutTri[hidden.tris[n]] = groups.groupOf[n];
  const filler = await measureFiller(
    body,
    region,
    frame,
    columns,
    cells,
    spotOfCutTri,
    groups.count,
    cutTriOfSource(body, region),
    cp.within(0.7, 1, 'measuring the filler'),
  );
  return gather(input, hidden, groups, depths, filler);
}

/** Faces that another piece holds, where nothing else already hides them. */
function addHeld(
  { body, region, held, paint }: PieceInput,
  found: HiddenFaces,
): HiddenFaces & { byPieceMm2: number } {
  if (held === null) return { ...found, byPieceMm2: 0 };
  const { cutTriRegion } = body.cut;
  const hiddenOf = new Map<number, number>();
  found.tris.forEach((t, n) => {
    hiddenOf.set(t, found.hiddenMm2[n]);
  });
  let byPieceMm2 = 0;
  let byBoardMm2 = found.byBoardMm2;
  for (let t = 0; t < held.length; t++) {
    if (cutTriRegion[t] !== region || held[t] === 0 || paint.triKind[t] === KIND_AWAY) continue;
    const isOnBoard = paint.triKind[t] === KIND_BY_BOARD;
    const rest = body.areasMm2[t] - (isOnBoard ? 0 : (hiddenOf.get(t) ?? 0));
    byPieceMm2 += rest;
    if (isOnBoard) byBoardMm2 -= rest;
    hiddenOf.set(t, body.areasMm2[t]);
    if (paint.triKind[t] === 0 || isOnBoard) paint.triKind[t] = KIND_BY_PIECE;
  }
  const tris = Int32Array.from(hiddenOf.keys()).sort();
  return {
    ...found,
    byBoardMm2,
    byPieceMm2,
    tris,
    hiddenMm2: Float64Array.from(tris, (t) => hiddenOf.get(t) ?? 0),
  };
}

/** By triangle of the solid a triangle of the cut surface in it, one of the region's where there is one; -1 off S. */
function cutTriOfSource({ cut, indices }: UndercutBody, region: number): Int32Array {
  const out = new Int32Array(indices.length / 3).fill(-1);
  for (let t = 0; t < cut.cutTriSource.length; t++) {
    const source = cut.cutTriSource[t];
    if (out[source] < 0 || cut.cutTriRegion[t] === region) out[source] = t;
  }
  return out;
}

const draftDeg = (sine: number): number => (Math.asin(Math.max(-1, Math.min(1, sine))) * 180) / Math.PI;

function freePiece({ region, walls }: PieceInput, hidden: HiddenFaces): PieceMeasure {
  return {
    piece: {
      areaMm2: 0,
      areaErrorMm2: hidden.areaErrorMm2,
      facingAwayMm2: 0,
      overshadowedMm2: { byRubber: 0, byPiece: 0, byBoard: 0 },
      maxDepthMm: 0,
      maxDepthErrorMm: 0,
      fillerMm3: 0,
      fillerErrorMm3: 0,
      beyondGive: { areaMm2: 0, fillerMm3: 0 },
      leastDraftDeg: draftDeg(hidden.leastSine),
      spotCount: 0,
      wall: { blockedMm: walls.blockedMm[region], leastDraftDeg: walls.leastDraftDeg[region] },
    },
    spots: [],
  };
}

/** A spot before it is known whether it is listed. */
interface Group {
  readonly number: number;
  readonly spot: Omit<Spot, 'id'>;
  readonly isCrack: boolean;
}

function gather(
  input: PieceInput,
  hidden: HiddenFaces & { byPieceMm2: number },
  groups: SpotGroups,
  depths: SpotDepths,
  filler: ShadowFiller,
): PieceMeasure {
  const { body, region, walls, giveMm, paint, firstSpot } = input;
  const all = describeGroups(input, hidden, groups, depths, filler);
  all.sort(
    (a, b) =>
      Number(a.isCrack) - Number(b.isCrack) ||
      b.spot.maxDepthMm - a.spot.maxDepthMm ||
      b.spot.fillerMm3 - a.spot.fillerMm3 ||
      a.number - b.number,
  );
  const noiseMm2 = NOISE_SHARE * body.diagonalMm ** 2;
  const listed = all.filter(({ spot, isCrack }) => !isCrack && spot.areaMm2 >= noiseMm2).slice(0, MOST_SPOTS);
  const numberOf = new Int32Array(groups.count).fill(-1);
  listed.forEach(({ number }, n) => {
    numberOf[number] = firstSpot + n;
  });
  hidden.tris.forEach((t, n) => {
    paint.triSpot[t] = numberOf[groups.groupOf[n]];
  });
  const beyond = all.filter(({ spot, isCrack }) => !spot.isWithinGive && !isCrack);
  const worst = all.find(({ isCrack }) => !isCrack);
  const maxDepthMm = worst?.spot.maxDepthMm ?? 0;
  const overshadowed = {
    byRubber: hidden.byRubberMm2,
    byPiece: hidden.byPieceMm2,
    byBoard: hidden.byBoardMm2,
  };
  return {
    piece: {
      areaMm2: hidden.facingAwayMm2 + hidden.byRubberMm2 + hidden.byPieceMm2 + hidden.byBoardMm2,
      areaErrorMm2: hidden.areaErrorMm2,
      facingAwayMm2: hidden.facingAwayMm2,
      overshadowedMm2: overshadowed,
      maxDepthMm,
      maxDepthErrorMm: worst ? depths.errorMm[worst.number] : 0,
      fillerMm3: filler.fillerMm3,
      fillerErrorMm3: filler.fillerErrorMm3,
      beyondGive: {
        areaMm2: beyond.reduce((sum, { spot }) => sum + spot.areaMm2, 0),
        // What no spot claims is deep in the shadow of those that lock.
        fillerMm3:
          beyond.reduce((sum, { spot }) => sum + spot.fillerMm3, 0) +
          (maxDepthMm > giveMm ? filler.bySpotMm3[groups.count] : 0),
      },
      leastDraftDeg: draftDeg(hidden.leastSine),
      spotCount: groups.count,
      wall: { blockedMm: walls.blockedMm[region], leastDraftDeg: walls.leastDraftDeg[region] },
    },
    spots: listed.map(({ spot }, n) => ({ id: spotId(region, n), ...spot })),
  };
}

function describeGroups(
  { body: { diagonalMm }, region, giveMm, paint }: PieceInput,
  hidden: HiddenFaces,
  groups: SpotGroups,
  depths: SpotDepths,
  filler: ShadowFiller,
): Group[] {
  const kinds = KIND_BY_BOARD + 1;
  const areaMm2 = new Float64Array(groups.count);
  const byKindMm2 = new Float64Array(kinds * groups.count);
  hidden.tris.forEach((t, n) => {
    areaMm2[groups.groupOf[n]] += hidden.hiddenMm2[n];
    byKindMm2[kinds * groups.groupOf[n] + paint.triKind[t]] += hidden.hiddenMm2[n];
  });
  return Array.from(areaMm2, (area, number) => {
    const [free, away, rubber, piece, board] = byKindMm2.subarray(kinds * number, kinds * (number + 1));
    // Faces of which less than half is hidden count as free in the paint; here they are the rubber's.
    const byRubber = away + rubber + free;
    const by = byRubber >= piece && byRubber >= board ? 'rubber' : piece >= board ? 'piece' : 'board';
    const heightMm = area > 0 ? filler.bySpotMm3[number] / area : 0;
    const isCrack =
      by === 'rubber' &&
      heightMm < CRACK_SHARE * diagonalMm &&
      heightMm < CRACK_OF_DEPTH * depths.depthMm[number];
    return {
      number,
      isCrack,
      spot: {
        region,
        kind: away >= area / 2 ? ('facing-away' as const) : ('overshadowed' as const),
        by,
        areaMm2: area,
        maxDepthMm: depths.depthMm[number],
        fillerMm3: filler.bySpotMm3[number],
        atMm: depths.at[number] as Vec3,
        // Rubber yields; another piece's shell and the board do not, however little of the spot they hold.
        isWithinGive: piece + board === 0 && depths.depthMm[number] <= giveMm,
      },
    };
  });
}

/** "A1" is the worst of the first piece; pieces are A ... Z, then A2 ... Z2, as the plan names them. */
function spotId(region: number, n: number): string {
  const letter = String.fromCharCode(65 + (region % 26));
  // From the 27th piece on its id ends in a number, so a point keeps the two apart.
  return region < 26 ? `${letter}${n + 1}` : `${letter}${Math.floor(region / 26) + 1}.${n + 1}`;
}
