import type { Box, Vec3 } from '../../core/mesh/TriMesh.ts';
import type { UnitSystem } from '../../core/units.ts';
import type { SurfacePicture } from '../../jobs/protocol.ts';
import { cutNormal } from '../../session/cutDraft.ts';
import type { MouldView } from '../../view/MouldView.ts';
import { planeInBox } from '../../view/overlay/planeInBox.ts';
import { FaceTool } from '../../view/tools/FaceTool.ts';
import type { PointerTool } from '../../view/tools/PointerTool.ts';
import { SlideTool } from '../../view/tools/SlideTool.ts';
import { TurnTool } from '../../view/tools/TurnTool.ts';
import type { StanderState, StandMode } from '../control/Stander.ts';
import type { Command } from '../events.ts';

/** What an arrow key slides a handle by, mm; with Shift ten times as much. A sixteenth of an inch, or a millimetre. */
const STEP_MM: Readonly<Record<UnitSystem, number>> = { metric: 1, us: 25.4 / 16 };

export interface StandToolGround {
  readonly view: MouldView;
  readonly rubber: SurfacePicture;
  readonly box: Box;
  readonly units: UnitSystem;
  /** The state as it is when the tool asks. */
  stander(): StanderState;
  ask(command: Command): void;
}

/** The tool that goes with what the stander does. */
export function standTool(mode: Exclude<StandMode, 'rest'>, ground: StandToolGround): PointerTool {
  const { view, rubber, box, units, ask } = ground;
  switch (mode) {
    case 'turn':
      return new TurnTool({
        axes: () => view.axes(),
        turned: (axis, angleRad) => ask({ do: 'stand-turn', axis, angleRad }),
        released: (isByHand) => ask({ do: 'stand-release', isByHand }),
      });
    case 'base':
      return new FaceTool(rubber, {
        faced: (face) => view.setPatch(face?.tris ?? []),
        picked: ({ normal, middleMm }) => ask({ do: 'stand-on', normal, middleMm }),
      });
    case 'board':
    case 'crop':
      return new SlideTool({
        project: (point) => view.project(point),
        mmPerPixel: () => view.mmPerPixel(),
        handle: () => handleOf(ground.stander(), box, view.axes().right) ?? NO_HANDLE,
        stepMm: STEP_MM[units],
        longStepMm: 10 * STEP_MM[units],
        slid: (mm, isDone) => ask({ do: 'stand-slide', mm, isDone }),
      });
  }
}

const NO_HANDLE = { at: [Infinity, Infinity, Infinity], axis: [0, 0, 1] } as const;

/** Where the handle is and which way it slides: at the corner of the board, or of the cut, farthest to the right in the picture. */
export function handleOf(
  { mode, boardMm, cut }: StanderState,
  box: Box,
  right: Vec3,
): { readonly at: Vec3; readonly axis: Vec3 } | null {
  const alongRight = ([x, y, z]: Vec3): number => x * right[0] + y * right[1] + z * right[2];
  if (mode === 'board') {
    return {
      at: [right[0] > 0 ? box.max[0] : box.min[0], right[1] > 0 ? box.max[1] : box.min[1], boardMm],
      axis: [0, 0, 1],
    };
  }
  if (mode !== 'crop' || cut === null) return null;
  const axis = cutNormal(cut);
  const ring = planeInBox({ normal: axis, offsetMm: cut.offsetMm }, box);
  if (ring.length > 0) return { at: ring.reduce((a, b) => (alongRight(b) > alongRight(a) ? b : a)), axis };
  // A plane beside the mould is taken hold of where it passes nearest to the middle.
  const middle = [0, 1, 2].map((k) => (box.min[k] + box.max[k]) / 2);
  const away = axis.reduce((sum, n, k) => sum + n * middle[k], 0) - cut.offsetMm;
  return { at: [0, 1, 2].map((k) => middle[k] - away * axis[k]) as [number, number, number], axis };
}
