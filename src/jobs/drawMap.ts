import type { Checkpoint } from '../core/checkpoint.ts';
import type { PlanRun } from '../core/computePlan.ts';
import { PlanError } from '../core/errors.ts';
import { distanceFromScan } from '../core/maps/distanceFromScan.ts';
import { draftAtCorners } from '../core/maps/draftAtCorners.ts';
import { spreadOf } from '../core/maps/spreadOf.ts';
import { valuesAtCorners } from '../core/maps/valuesAtCorners.ts';
import type { TriMesh } from '../core/mesh/TriMesh.ts';
import type { StepCache } from '../core/StepCache.ts';
import { thicknessAtVerts } from '../core/shell/thicknessOfCoats.ts';
import { drawUndercut } from './drawUndercut.ts';
import type { MapAsk, MapPicture } from './protocol.ts';
import { type RegionPicture, takeRegion } from './takeRegion.ts';

/**
 * One quantity over the rubber of each piece, at the corners of the pictures that `drawPlan` made of the same run.
 * `fileMesh`: the scan as its file has it. Throws PlanError when what is asked for does not stand yet.
 */
export async function drawMap(
  run: PlanRun,
  fileMesh: TriMesh,
  ask: MapAsk,
  revision: number,
  cache: StepCache,
  cp: Checkpoint,
): Promise<MapPicture> {
  const { parting } = run;
  const parts = parting.pieces.map((_, region) => takeRegion(parting.cut, region));
  await cp.pause(0.05);
  const corners = await cornersOf(run, fileMesh, ask, parts, cache, cp.within(0.05, 0.95, WORDS[ask.of]));
  const spread = spreadOf(parts.map(({ picture }, i) => ({ ...picture, corners: corners[i] })));
  return {
    ...ask,
    revision,
    spread,
    pieces: parts.map(({ tris }, i) => ({
      corners: corners[i],
      tris: Uint32Array.from(tris, (tri) => parting.cut.cutTriSource[tri]),
    })),
  };
}

const WORDS: Readonly<Record<MapAsk['of'], string>> = {
  thickness: 'predicting the thickness',
  undercut: 'drawing the undercuts',
  draft: 'measuring the draft',
  distance: 'measuring from the scan',
};

async function cornersOf(
  run: PlanRun,
  fileMesh: TriMesh,
  ask: MapAsk,
  parts: readonly RegionPicture[],
  cache: StepCache,
  cp: Checkpoint,
): Promise<Float32Array[]> {
  const { scan, parting, plan } = run;
  const fromVerts = (values: ArrayLike<number>): Float32Array[] =>
    parts.map(({ picture, tris }) =>
      valuesAtCorners(scan.mesh, values, {
        ...picture,
        sources: Int32Array.from(tris, (tri) => parting.cut.cutTriSource[tri]),
      }),
    );
  switch (ask.of) {
    case 'thickness': {
      const coat = Math.min(ask.coat ?? Infinity, plan.coats.length - 1);
      return fromVerts(await thicknessAtVerts(run, coat, cache, cp));
    }
    case 'undercut': {
      const { undercut } = run;
      if (undercut === null) {
        throw new PlanError('bad-plan', 'The undercuts are not worked out yet. The picture follows them.');
      }
      return parts.map((part) => {
        const { depthMm } = drawUndercut(part, undercut);
        return Float32Array.from(part.picture.indices, (vert) => depthMm[vert]);
      });
    }
    case 'draft':
      return parts.map(({ picture }, region) =>
        draftAtCorners(picture.positions, picture.indices, parting.pieces[region].pull),
      );
    case 'distance':
      return fromVerts(
        await cache.remember('distance', run.scanKey, () =>
          distanceFromScan(scan.mesh, fileMesh, run.grounds.bare.scan.fileToBoard, cp),
        ),
      );
  }
}
