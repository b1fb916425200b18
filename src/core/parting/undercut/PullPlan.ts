import type { Vec3 } from '../../mesh/TriMesh.ts';
import { PullColumns } from './PullColumns.ts';
import { frameOf, type PullFrame } from './PullFrame.ts';
import { type ProjectedVerts, projectVerts } from './projectVerts.ts';
import type { UndercutBody } from './UndercutBody.ts';

/** The solid as one pull sees it. */
export interface PullPlan {
  readonly frame: PullFrame;
  readonly verts: ProjectedVerts;
  readonly columns: PullColumns;
}

export function makePullPlan(body: UndercutBody, pull: Vec3): PullPlan {
  const frame = frameOf(pull);
  const verts = projectVerts(body.positions, frame);
  return { frame, verts, columns: new PullColumns(verts, body.indices) };
}
