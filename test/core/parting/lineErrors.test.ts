import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { PlanError } from '../../../src/core/errors.ts';
import { prepareScan } from '../../../src/core/mesh/prepareScan.ts';
import type { TriMesh, Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { joinAlongSurface } from '../../../src/core/parting/joinAlongSurface.ts';
import { planParting } from '../../../src/core/parting/planParting.ts';
import { SurfaceContext } from '../../../src/core/parting/SurfaceContext.ts';
import { newPlan } from '../../../src/core/plan/newPlan.ts';
import type { PartingLinePlan } from '../../../src/core/plan/PlanDocument.ts';
import { openMesh } from '../../../src/io/openMesh.ts';
import { joined, moved, octasphere, openHalfSphere, torus } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from './preparedFromMesh.ts';

const R = 50;
const dome = new SurfaceContext(preparedFromMesh(openHalfSphere(R, 24), true));

const line = (closed: boolean, ...points: Vec3[]): PartingLinePlan => ({ id: 'l', closed, points });
const lay = (surface: SurfaceContext, ...lines: PartingLinePlan[]) =>
  planParting(surface, { ...newPlan('x.stl').parting, lines }, new Checkpoint());

/** The sentence that a line is refused with; it must say what to do. */
async function refusal(surface: SurfaceContext, ...lines: PartingLinePlan[]): Promise<string> {
  try {
    await lay(surface, ...lines);
  } catch (error) {
    expect(error).toBeInstanceOf(PlanError);
    expect((error as PlanError).code).toBe('bad-line');
    const { message } = error as PlanError;
    expect(message).toMatch(/\. (Draw|Move|Lead|Close|Carry|Add)\b/);
    return message;
  }
  throw new Error('no line was refused');
}

describe('what is said of a line that cannot be', () => {
  it('an end in the air: which end, where, how far', async () => {
    const message = await refusal(dome, line(false, [R, 0, 0], [0, 0, R]));
    expect(message).toContain('its last point, (0, 0, 50) mm, is 70.7 mm short of the board');
    expect(await refusal(dome, line(false, [0, 0, R], [R, 0, 0]))).toContain('its first point');
  });

  it('an end in the air beside another line', async () => {
    const across = line(false, [R, 0, 0], [0, 0, R], [-R, 0, 0]);
    // The second ends 45 degrees down from the first's ridge and from the board: 27 mm from both, reach 0.15 of 150 mm.
    const message = await refusal(
      dome,
      across,
      line(false, [0, R, 0], [0, R * Math.SQRT1_2, R * Math.SQRT1_2]),
    );
    expect(message).toContain('its last point, (0, 35.4, 35.4) mm');
    expect(message).toContain('short of the nearest board or line');
  });

  it('crossing itself: where, and between which points', async () => {
    const message = await refusal(
      dome,
      line(false, [R, 1, 0], [10, 30, 39], [-30, 0, 40], [10, -30, 39], [20, 40, 20], [0, R, 0]),
    );
    expect(message).toContain('crosses itself near (');
    expect(message).toContain('between points 1 and 2 and between points 4 and 5');
  });

  it('crossing another is allowed: the pieces are four', async () => {
    const step = await lay(
      dome,
      line(false, [R, 0, 0], [0, 0, R], [-R, 0, 0]),
      line(false, [0, R, 0], [1, 1, R], [0, -R, 0]),
    );
    expect(step.pieces).toHaveLength(4);
  });

  it('through a hole: between which points, where', async () => {
    const fine = openHalfSphere(R, 32);
    const surface = new SurfaceContext(
      preparedFromMesh({ positions: fine.positions, indices: withoutBall(fine, [0, 3, R], 25) }, true),
    );
    const message = await refusal(surface, line(false, [R, 0, 0], [35, 2, 36], [-35, 2, 36], [-R, 0, 0]));
    expect(message).toContain('into a hole of the scan between points 2 and 3, near (');
  });

  it('off the rubber: which point, how far', async () => {
    const message = await refusal(dome, line(false, [R, 0, 0], [0, 0, 90], [-R, 0, 0]));
    expect(message).toContain('Point 2 of the parting line, (0, 0, 90) mm, lies 40 mm off the rubber');
  });

  it('a little off the rubber is moved on to it', async () => {
    const step = await lay(dome, line(false, [R + 2, 0, 0], [0, 0, R + 5], [-R, 0, 0]));
    expect(step.pieces).toHaveLength(2);
  });

  it('between parts that are not connected: between which points', async () => {
    const small = openHalfSphere(R, 12);
    const two = new SurfaceContext(preparedFromMesh(joined(small, moved(small, [200, 0, 0])), true));
    const message = await refusal(two, line(false, [R, 0, 0], [150, 0, 0]));
    expect(message).toContain('between points 1 and 2');
    expect(message).toContain('not connected');
  });

  it('an open line where there is no board', async () => {
    const ball = new SurfaceContext(preparedFromMesh(octasphere(R, 12), false));
    expect(await refusal(ball, line(false, [R, 0, 0], [0, 0, R]))).toContain('no edge on a board');
  });

  it('a line that separates nothing: which of them', async () => {
    // Round the tube of a ring: the ring goes on on both sides.
    const ring = new SurfaceContext(preparedFromMesh(torus(40, 10, 48, 24), false));
    const tube = line(true, [50, 0, 0], [40, 0, 10], [30, 0, 0], [40, 0, -10]);
    expect(await refusal(ring, tube)).toContain('The parting line separates nothing');
    const cap = line(true, [-50, 0, 0], [-46, 5, 7], [-40, 0, 10], [-46, -5, 7]);
    expect(await refusal(ring, cap, tube)).toContain('Parting line 2 separates nothing');
  });

  it('too few points, points on top of each other, points that are no numbers', async () => {
    expect(await refusal(dome, line(false, [R, 0, 0]))).toContain('at least 2 points');
    expect(await refusal(dome, line(true, [R, 0, 0], [0, 0, R]))).toContain('at least 3 points to close');
    expect(await refusal(dome, line(true, [0, 0, R], [0, 0, R], [0, 0, R]))).toContain(
      'on top of each other',
    );
    expect(() =>
      joinAlongSurface(
        dome,
        [
          [R, 0, 0],
          [Number.NaN, 0, 0],
        ],
        false,
      ),
    ).toThrow('not three numbers');
  });

  it('on a real scan: a line from the foot of the goblet to its brim', async () => {
    const { mesh } = await openMesh(
      new Uint8Array(readFileSync(new URL('../../fixtures/goblet.stl', import.meta.url))),
      'goblet.stl',
    );
    const scan = await prepareScan(mesh, newPlan('goblet.stl').scan, [], new Checkpoint());
    const surface = new SurfaceContext(scan);
    const height = scan.heightMm;
    const at = (share: number): Vec3 => {
      const s = surface.closestPoint([surface.diagonalMm, 0, share * height]);
      return [s.x, s.y, s.z];
    };
    expect(await refusal(surface, line(false, at(0), at(1)))).toContain('its last point');
  });
});

function withoutBall(mesh: TriMesh, centre: Vec3, radius: number): Uint32Array {
  const kept: number[] = [];
  for (let t = 0; t < mesh.indices.length; t += 3) {
    const near = [0, 1, 2].some((k) => {
      const v = 3 * mesh.indices[t + k];
      const p = mesh.positions;
      return Math.hypot(p[v] - centre[0], p[v + 1] - centre[1], p[v + 2] - centre[2]) < radius;
    });
    if (!near) kept.push(mesh.indices[t], mesh.indices[t + 1], mesh.indices[t + 2]);
  }
  return Uint32Array.from(kept);
}
