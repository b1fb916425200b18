import { PlanError } from '../../errors.ts';
import type { Vec3 } from '../../mesh/TriMesh.ts';

/** Right-handed unit axes with the pull as the third: u x v = d. u lies level (u.z = 0), and v never points down. */
export interface PullFrame {
  readonly u: Vec3;
  readonly v: Vec3;
  readonly d: Vec3;
}

/** A pull that is this near to upright has no level direction square to it of its own; x is taken. */
const UPRIGHT_SINE = 1e-9;

/** The frame of a pull of any length. Throws PlanError 'bad-pull' -> no direction (zero or not finite). */
export function frameOf(pull: Vec3): PullFrame {
  const length = Math.hypot(pull[0], pull[1], pull[2]);
  if (!(length > 0 && Number.isFinite(length))) {
    throw new PlanError(
      'bad-pull',
      `A pull of ${pull.join(', ')} has no direction; give a vector that is not zero.`,
    );
  }
  const d: Vec3 = [pull[0] / length, pull[1] / length, pull[2] / length];
  const level = Math.hypot(d[0], d[1]);
  const u: Vec3 = level > UPRIGHT_SINE ? [-d[1] / level, d[0] / level, 0] : [d[2] > 0 ? 1 : -1, 0, 0];
  const v: Vec3 = [d[1] * u[2] - d[2] * u[1], d[2] * u[0] - d[0] * u[2], d[0] * u[1] - d[1] * u[0]];
  return v[2] < 0 ? { u: [-u[0], -u[1], -u[2]], v: [-v[0], -v[1], -v[2]], d } : { u, v, d };
}
