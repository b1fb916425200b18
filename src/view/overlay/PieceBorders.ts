import { Group, type Object3D } from 'three';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SurfacePicture } from '../../jobs/protocol.ts';
import { findBorderEdges } from '../surface/findBorderEdges.ts';
import { FatLine } from './FatLine.ts';
import {
  type FatLineLook,
  makeFatLineMaterial,
  type OverlayFrame,
  type SharedCut,
} from './fatLineMaterial.ts';

const BORDER: FatLineLook = { widthPx: 2.2, dashPx: null, opacity: 1, part: 'front', liftPx: 5 };
/** Up to this height an edge counts as standing on the board. */
const BOARD_MM = 0.02;

/** While the pieces are apart the parting line is drawn on each of them, since it belongs to both and to no place between. */
export class PieceBorders {
  private readonly root = new Group();
  private readonly borders: {
    readonly group: Group;
    readonly line: FatLine;
    surface: SurfacePicture | null;
  }[] = [];

  constructor(
    parent: Object3D,
    private readonly frame: OverlayFrame,
    private readonly cut: SharedCut,
  ) {
    parent.add(this.root);
  }

  /** @param pieces surface and offset of each piece that shows its border; none: nothing is drawn */
  show(pieces: readonly { readonly surface: SurfacePicture; readonly offset: Vec3 }[], accent: string): void {
    while (this.borders.length < pieces.length) {
      const group = new Group();
      this.root.add(group);
      const line = new FatLine(group, [makeFatLineMaterial(this.frame, this.cut, BORDER)], 10);
      this.borders.push({ group, line, surface: null });
    }
    this.borders.forEach((border, i) => {
      border.group.visible = i < pieces.length;
      if (i >= pieces.length) return;
      const { surface, offset } = pieces[i];
      border.group.position.set(offset[0], offset[1], offset[2]);
      border.line.setTint(accent);
      if (border.surface === surface) return;
      border.surface = surface;
      border.line.setPaths(borderPaths(surface));
    });
  }

  dispose(): void {
    for (const { line } of this.borders) line.dispose();
    this.root.removeFromParent();
  }
}

/** Each border edge as a path of its own; round ends join them. */
function borderPaths({ positions, indices }: SurfacePicture): number[][] {
  const edges = findBorderEdges(positions, indices, BOARD_MM);
  const paths: number[][] = [];
  for (let i = 0; i < edges.length; i += 2) {
    const a = 3 * edges[i];
    const b = 3 * edges[i + 1];
    paths.push([...positions.subarray(a, a + 3), ...positions.subarray(b, b + 3)]);
  }
  return paths;
}
