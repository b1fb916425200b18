import { Checkpoint } from '../../../../src/core/checkpoint.ts';
import type { PreparedScan } from '../../../../src/core/mesh/PreparedScan.ts';
import { prepareScan } from '../../../../src/core/mesh/prepareScan.ts';
import type { TriMesh } from '../../../../src/core/mesh/TriMesh.ts';
import { type PartingStep, planParting } from '../../../../src/core/parting/planParting.ts';
import { SurfaceContext } from '../../../../src/core/parting/SurfaceContext.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import type { PartingPlan, ScanPlan } from '../../../../src/core/plan/PlanDocument.ts';

/** A shape prepared, on no board unless said, and parted as given. */
export async function partShape(
  mesh: TriMesh,
  parting: Partial<PartingPlan>,
  scanPlan: Partial<ScanPlan> = {},
): Promise<{ scan: PreparedScan; surface: SurfaceContext; parting: PartingStep; plan: PartingPlan }> {
  const plain = newPlan('shape.stl');
  const asItStands = { unit: 'mm', up: 'z', board: 'none', crumbShare: 0 } as const;
  const plan = { ...plain.parting, ...parting };
  const scan = await prepareScan(mesh, { ...plain.scan, ...asItStands, ...scanPlan }, [], new Checkpoint());
  const surface = new SurfaceContext(scan);
  return {
    scan,
    surface,
    parting: await planParting(surface, plan, new Checkpoint()),
    plan,
  };
}
