import type { BareRun } from '../core/computePlan.ts';
import { boundingBox, type TriMesh } from '../core/mesh/TriMesh.ts';
import type { StepCache } from '../core/StepCache.ts';
import { pickTree } from '../core/spatial/pickTree.ts';
import { drawMark } from './drawMark.ts';
import type { LinePicture, PlanGeometry, RubberPicture, ShadedPicture } from './protocol.ts';
import { shadePicture } from './shadePicture.ts';
import { type RegionPicture, takeRegion } from './takeRegion.ts';

/** What the page shows of a run before any field stands: all but the pieces. */
export function drawGround(
  run: BareRun,
  isRubberNew: boolean,
  filler: TriMesh | null,
): Omit<PlanGeometry, 'pieces'> {
  const { scan, parting } = run;
  return {
    rubber: isRubberNew ? drawRubber(run) : null,
    lines: parting.paths.map(
      (path, n): LinePicture => ({
        id: parting.lines[n].id,
        closed: path.closed,
        path: Float32Array.from(path.points),
        // The points that the user moves are those of the bare rubber, also where filler lies over them.
        controlPoints: Float32Array.from(run.grounds.bare.parting.lines[n].points.flat()),
      }),
    ),
    marks: scan.marks.map(drawMark),
    filler:
      filler &&
      shadePicture({ positions: Float32Array.from(filler.positions), indices: filler.indices.slice() }),
    fileToBoard: scan.fileToBoard,
  };
}

function drawRubber({ scan, surface }: Pick<BareRun, 'scan' | 'surface'>): RubberPicture {
  const { positions, indices } = scan.mesh;
  const picture = { positions: Float32Array.from(positions), indices: indices.slice() };
  return {
    ...shadePicture(picture),
    box: boundingBox(scan.mesh),
    // The tree that lines are laid by serves as well, where there is no base that it leaves out.
    tree: surface.takePickTree() ?? pickTree(picture.positions, picture.indices),
  };
}

/** A region of the cut rubber, shaded. */
export interface RegionLook {
  readonly part: RegionPicture;
  readonly look: ShadedPicture;
}

/** Each region of the cut rubber, remembered as long as the lines stay. Their buffers are the worker's own. */
export function drawRegions(run: BareRun, cache: StepCache): Promise<readonly RegionLook[]> {
  const { parting, grounds } = run;
  return cache.remember('shaded pieces', grounds.filled.partingKey, () =>
    parting.pieces.map((_, region) => {
      const part = takeRegion(parting.cut, region);
      return { part, look: shadePicture(part.picture) };
    }),
  );
}
