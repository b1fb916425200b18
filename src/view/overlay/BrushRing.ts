import { Group, type Object3D } from 'three';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import { FatLine } from './FatLine.ts';
import {
  type FatLineLook,
  makeFatLineMaterial,
  type OverlayFrame,
  type SharedCut,
} from './fatLineMaterial.ts';

const RING: FatLineLook = { widthPx: 2, dashPx: null, opacity: 1, part: 'front', liftPx: 8 };
/** The half behind the mould is drawn too, broken, so that the size is read on narrow things. */
const BEHIND: FatLineLook = { widthPx: 1.4, dashPx: [4, 4], opacity: 0.7, part: 'hidden', liftPx: 8 };
const CORNERS = 64;

/** The brush's true size where it stands: a circle of its radius in the plane of the rubber there. */
export class BrushRing {
  private readonly root = new Group();
  private readonly line: FatLine;

  constructor(parent: Object3D, frame: OverlayFrame, cut: SharedCut) {
    parent.add(this.root);
    this.line = new FatLine(
      this.root,
      [makeFatLineMaterial(frame, cut, BEHIND), makeFatLineMaterial(frame, cut, RING)],
      13,
    );
  }

  setTint(hex: string): void {
    this.line.setTint(hex);
  }

  /** `at` null: the ring is not drawn. @param normal unit, of the rubber there */
  show(at: Vec3 | null, normal: Vec3 = [0, 0, 1], radiusMm = 0): void {
    this.line.setPaths(at === null ? [] : [circle(at, normal, radiusMm)]);
  }

  dispose(): void {
    this.line.dispose();
    this.root.removeFromParent();
  }
}

/** A closed circle about `at`, square to the unit vector `normal`: CORNERS + 1 points, n x 3. */
export function circle(at: Vec3, normal: Vec3, radiusMm: number): Float32Array {
  const [nx, ny, nz] = normal;
  // Any vector that is not along the normal gives one across it.
  const side: Vec3 = Math.abs(nz) < 0.9 ? [-ny, nx, 0] : [0, -nz, ny];
  const length = Math.hypot(...side);
  const u: Vec3 = [side[0] / length, side[1] / length, side[2] / length];
  const v: Vec3 = [ny * u[2] - nz * u[1], nz * u[0] - nx * u[2], nx * u[1] - ny * u[0]];
  const path = new Float32Array(3 * (CORNERS + 1));
  for (let i = 0; i <= CORNERS; i++) {
    const angle = (2 * Math.PI * i) / CORNERS;
    for (let k = 0; k < 3; k++)
      path[3 * i + k] = at[k] + radiusMm * (Math.cos(angle) * u[k] + Math.sin(angle) * v[k]);
  }
  return path;
}
