import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { MarkedArea, PlanDocument } from '../core/plan/PlanDocument.ts';

/**
 * The plan for a mould grown by `factor`: lines, pieces, cuts, filled spots and marked areas stay where they were put.
 * Thicknesses, flange, rubber and its give are the maker's own measures and stay as typed.
 */
export function resizePlan(plan: PlanDocument, factor: number): PlanDocument {
  if (factor === 1 || !(factor > 0) || !Number.isFinite(factor)) return plan;
  const grow = ([x, y, z]: Vec3): Vec3 => [x * factor, y * factor, z * factor];
  const growArea = (area: MarkedArea): MarkedArea => ({
    ...area,
    dabsMm: area.dabsMm.map(grow),
    radiusMm: area.radiusMm * factor,
  });
  const { scan, parting } = plan;
  return {
    ...plan,
    scan: {
      ...scan,
      board: typeof scan.board === 'number' ? scan.board * factor : scan.board,
      crops: scan.crops.map((crop) => ({ ...crop, offsetMm: crop.offsetMm * factor })),
      keepClear: scan.keepClear.map(growArea),
    },
    parting: {
      ...parting,
      lines:
        parting.lines === 'auto'
          ? 'auto'
          : parting.lines.map((line) => ({ ...line, points: line.points.map(grow) })),
      pieces: parting.pieces.map((piece) => ({ ...piece, anchorMm: grow(piece.anchorMm) })),
      notHere: parting.notHere.map(growArea),
      blockOut: parting.blockOut === 'all' ? 'all' : parting.blockOut.map(grow),
    },
  };
}
