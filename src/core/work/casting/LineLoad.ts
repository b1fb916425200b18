import type { Vec3 } from '../../mesh/TriMesh.ts';
import { type MouldFill, pressureAt } from './MouldFill.ts';

/** A parting line with what presses along it, tabulated at its points and where the level crosses it. */
export interface LineLoad {
  readonly between: readonly [string, string];
  /** Points along the line, x y z. */
  readonly points: Float64Array;
  /** Length from the line's beginning, mm. */
  readonly alongMm: Float64Array;
  /** Pressure at each, Pa; linear between them. */
  readonly pressurePa: Float64Array;
  readonly lengthMm: number;
  /** Integral of the pressure along the line, Pa mm. */
  readonly pressurePaMm: number;
  /** One of several runs of a line. */
  readonly isRun: boolean;
}

/** The line's pressure; the level's crossings become points, so that pressure is linear from one to the next. Null for a line without length. */
export function loadLine(
  between: readonly [string, string],
  line: readonly Vec3[],
  fill: MouldFill,
  isRun = false,
): LineLoad | null {
  const points: number[] = [];
  for (let n = 0; n < line.length; n++) {
    if (n > 0) {
      const before = fill.depthPerMm * line[n - 1][2] + fill.depthAtBoardMm;
      const here = fill.depthPerMm * line[n][2] + fill.depthAtBoardMm;
      if (before * here < 0) {
        const share = before / (before - here);
        for (let k = 0; k < 3; k++) points.push(line[n - 1][k] + share * (line[n][k] - line[n - 1][k]));
      }
    }
    points.push(...line[n]);
  }
  const count = points.length / 3;
  const alongMm = new Float64Array(count);
  const pressurePa = new Float64Array(count);
  let pressurePaMm = 0;
  for (let n = 0; n < count; n++) {
    pressurePa[n] = pressureAt(fill, points[3 * n + 2]);
    if (n === 0) continue;
    const stepMm = Math.hypot(
      points[3 * n] - points[3 * n - 3],
      points[3 * n + 1] - points[3 * n - 2],
      points[3 * n + 2] - points[3 * n - 1],
    );
    alongMm[n] = alongMm[n - 1] + stepMm;
    pressurePaMm += (stepMm * (pressurePa[n - 1] + pressurePa[n])) / 2;
  }
  const lengthMm = count > 0 ? alongMm[count - 1] : 0;
  if (!(lengthMm > 0)) return null;
  return { between, points: Float64Array.from(points), alongMm, pressurePa, lengthMm, pressurePaMm, isRun };
}
