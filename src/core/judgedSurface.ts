import { innerDistanceMm } from './assembleResult.ts';
import type { Checkpoint } from './checkpoint.ts';
import type { Ground } from './layGround.ts';
import { type BrushedRubber, brushRubber } from './parting/brushRubber.ts';
import type { LineChain } from './parting/chainSegments.ts';
import type { SurfaceContext } from './parting/SurfaceContext.ts';
import type { CutSurface } from './parting/types.ts';
import { KIND_FREE, type UndercutStep } from './parting/undercut/UndercutStep.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
import type { StepCache } from './StepCache.ts';

/** The face that the shell comes off: the ground's own, or over a bare pattern the rubber's outer face. */
export interface JudgedSurface {
  readonly surface: SurfaceContext;
  readonly cut: CutSurface;
  readonly chains: readonly LineChain[];
  /** Null when it is the ground's own. */
  readonly brushed: BrushedRubber | null;
  /** Names the surface; and with it its pieces. */
  readonly surfaceKey: string;
  readonly key: string;
}

export async function rememberJudged(
  plan: PlanDocument,
  ground: Ground,
  cache: StepCache,
  cp: Checkpoint,
): Promise<JudgedSurface> {
  const { surface, scan, source, parting, areaMm2, scanKey, partingKey } = ground;
  const { cut, chains } = parting;
  const rubberMm = innerDistanceMm(plan);
  if (rubberMm === 0) {
    return { surface, cut, chains, brushed: null, surfaceKey: scanKey, key: partingKey };
  }
  const key = `${partingKey} under ${rubberMm} mm`;
  const brushed = await cache.remember('brushed', key, () =>
    brushRubber(scan, source, cut, chains, areaMm2, rubberMm, cp),
  );
  return {
    surface: brushed.surface,
    cut: brushed.cut,
    chains: brushed.chains,
    brushed,
    // The brushed face is made anew with its pieces.
    surfaceKey: key,
    key,
  };
}

/** What was found on the rubber's outer face, told by the triangles of the pattern under it. */
export function toldOfPattern(step: UndercutStep, { overCorner }: BrushedRubber): UndercutStep {
  const count = overCorner.length / 3;
  const cornerDepthMm = new Float32Array(overCorner.length);
  const triKind = new Uint8Array(count);
  const triSpot = new Int32Array(count).fill(-1);
  for (let h = 0; h < overCorner.length; h++) {
    const over = overCorner[h];
    const kind = step.triKind[over];
    if (kind === KIND_FREE) continue;
    // Any corner under a lock marks the triangle: a sliver too much is seen, one too few is not.
    const t = (h / 3) | 0;
    triKind[t] = kind;
    triSpot[t] = step.triSpot[over];
    for (let k = 0; k < 3; k++) {
      cornerDepthMm[h] = Math.max(cornerDepthMm[h], step.cornerDepthMm[3 * over + k]);
    }
  }
  return { ...step, cornerDepthMm, triKind, triSpot };
}
