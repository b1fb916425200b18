import { describe, expect, it } from 'vitest';
import type { Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { writeTriNormal } from '../../../../src/core/mesh/writeNormal.ts';
import { octasphere } from '../../../fixtures/shapes.ts';
import { undercutInput, undercutOf } from './labelledCut.ts';

const RADIUS_MM = 50;
const SHELL_MM = 8;
/** A shell is met past its border by a twentieth of its thickness. */
const TOUCH_MM = SHELL_MM / 20;
const FINE_STEP_MM = SHELL_MM / 200;
/**
 * Faces whose ways start in one cube, a tenth of the shell wide, are answered by one of them: what is held here is a band of some
 * two cubes.
 */
const TOLERANCE = 0.06;
const PULL_DEG = 60;

/**
 * The way of a face of a ball's half x > 0, by formula: halfway through the shell, along the pull, until it leaves the shell or
 * meets the ball. Whether it comes into the other half's shell, whose places are x < 0: nearer to that half than to the own
 * edge, a circle, by more than the touch.
 */
function isHeld(middle: Vec3, pull: Vec3): boolean {
  const length = Math.hypot(...middle);
  const start = middle.map((c) => (c * (RADIUS_MM + SHELL_MM / 2)) / length);
  for (let s = 0; ; s += FINE_STEP_MM) {
    const x = start[0] + s * pull[0];
    const y = start[1] + s * pull[1];
    const z = start[2] + s * pull[2];
    const far = Math.sqrt(x * x + y * y + z * z);
    if (far < RADIUS_MM || (far > RADIUS_MM + SHELL_MM && s > 2 * SHELL_MM)) return false;
    if (x >= 0 || far > RADIUS_MM + SHELL_MM) continue;
    const toEdge = Math.hypot(x, Math.hypot(y, z) - RADIUS_MM);
    if (toEdge - (far - RADIUS_MM) > TOUCH_MM) return true;
  }
}

describe('two halves of a ball that are pulled at each other', () => {
  const sine = Math.sin((PULL_DEG * Math.PI) / 180);
  const cosine = Math.cos((PULL_DEG * Math.PI) / 180);
  const pulls: Vec3[] = [
    [-cosine, 0, sine],
    [cosine, 0, sine],
  ];

  it.each([16, 48, 80])(
    'hold the faces that meet the other by formula, %i edges to a quarter',
    async (edges) => {
      const mesh = octasphere(RADIUS_MM, edges);
      const body = { mesh, pulls, labelOf: (x: number) => (x > 0 ? 0 : 1), shellMm: SHELL_MM };
      const step = await undercutOf(body);
      expect(step.removal.locked).toEqual([0, 1]);
      const { cut } = undercutInput(body);
      const normal = new Float64Array(3);
      let exact = 0;
      for (let t = 0; t < cut.cutTriRegion.length; t++) {
        if (cut.cutTriRegion[t] !== 0) continue;
        const middle: [number, number, number] = [0, 0, 0];
        for (let k = 0; k < 3; k++)
          for (let c = 0; c < 3; c++) middle[c] += cut.positions[3 * cut.indices[3 * t + k] + c] / 3;
        const facing = middle[0] * pulls[0][0] + middle[2] * pulls[0][2];
        if (facing > 0 && isHeld(middle, pulls[0])) exact += writeTriNormal(cut, t, normal) / 2;
      }
      const { byPiece } = step.pieces[0].overshadowedMm2;
      expect(exact).toBeGreaterThan(150);
      expect(Math.abs(byPiece / exact - 1)).toBeLessThan(TOLERANCE);
    },
  );
});
