import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { CropPlane, MarkedArea, PlanDocument } from '../core/plan/PlanDocument.ts';
import type { Rotation } from './uprightAngles.ts';

/** A rigid move in the board's frame: x' = turn x + shiftMm. */
export interface RigidMove {
  readonly turn: Rotation;
  readonly shiftMm: Vec3;
}

/**
 * The plan for a mould that was turned and set anew on its board: lines, pieces with their pulls, cuts, filled spots,
 * marked areas and probed points go along with it. Pull azimuths turn as level directions do.
 */
export function turnPlan(plan: PlanDocument, move: RigidMove): PlanDocument {
  const { turn, shiftMm } = move;
  const turned = (v: Vec3): Vec3 => turnVector(turn, v);
  const moved = (p: Vec3): Vec3 => {
    const [x, y, z] = turned(p);
    return [x + shiftMm[0], y + shiftMm[1], z + shiftMm[2]];
  };
  const moveArea = (area: MarkedArea): MarkedArea => ({ ...area, dabsMm: area.dabsMm.map(moved) });
  const moveCrop = ({ normal, offsetMm }: CropPlane): CropPlane => {
    const n = turned(normal);
    return { normal: n, offsetMm: offsetMm + n[0] * shiftMm[0] + n[1] * shiftMm[1] + n[2] * shiftMm[2] };
  };
  const { scan, parting, log } = plan;
  return {
    ...plan,
    scan: { ...scan, crops: scan.crops.map(moveCrop), keepClear: scan.keepClear.map(moveArea) },
    parting: {
      ...parting,
      pullAzimuthsDeg:
        parting.pullAzimuthsDeg === 'auto'
          ? 'auto'
          : parting.pullAzimuthsDeg.map((azimuthDeg) => turnAzimuth(turn, azimuthDeg)),
      lines:
        parting.lines === 'auto'
          ? 'auto'
          : parting.lines.map((line) => ({ ...line, points: line.points.map(moved) })),
      pieces: parting.pieces.map((piece) => ({
        ...piece,
        anchorMm: moved(piece.anchorMm),
        pull: piece.pull && turned(piece.pull),
      })),
      notHere: parting.notHere.map(moveArea),
      blockOut: parting.blockOut === 'all' ? 'all' : parting.blockOut.map(moved),
    },
    log: { ...log, probes: log.probes.map((probe) => ({ ...probe, pointMm: moved(probe.pointMm) })) },
  };
}

export function turnVector(r: Rotation, [x, y, z]: Vec3): Vec3 {
  return [r[0] * x + r[1] * y + r[2] * z, r[3] * x + r[4] * y + r[5] * z, r[6] * x + r[7] * y + r[8] * z];
}

/** A level direction after the turn, seen from above; one that would stand upright keeps its azimuth. */
function turnAzimuth(turn: Rotation, azimuthDeg: number): number {
  const angleRad = (azimuthDeg * Math.PI) / 180;
  const [x, y] = turnVector(turn, [Math.cos(angleRad), Math.sin(angleRad), 0]);
  if (Math.hypot(x, y) < 1e-9) return azimuthDeg;
  // A millionth of a degree, as the scan's own angles.
  return Number(((Math.atan2(y, x) * 180) / Math.PI).toFixed(6)) + 0;
}
