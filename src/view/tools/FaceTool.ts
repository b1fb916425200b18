import type { SurfacePicture } from '../../jobs/protocol.ts';
import { FacetTable, type FittedFace } from './FacetTable.ts';
import type { PointerTool, ToolKey, ToolPlace } from './PointerTool.ts';

export interface FaceTarget {
  /** The face under the pointer, to be set off; null: none. */
  faced(face: FittedFace | null): void;
  picked(face: FittedFace): void;
}

/** Makes out the face under the pointer and takes it at a click, a touch, or (at the cross) the space bar. Dragging turns the camera. */
export class FaceTool implements PointerTool {
  readonly cursor = 'crosshair';
  private table: FacetTable | null = null;
  private frame = 0;

  constructor(
    private readonly surface: SurfacePicture,
    private readonly target: FaceTarget,
  ) {}

  down(): boolean {
    return false;
  }

  move(): void {}

  up(): void {}

  tap(place: ToolPlace): void {
    const face = this.faceAt(place);
    if (face !== null) this.target.picked(face);
  }

  /** Once a frame at most: a large scan takes its time. */
  hover(place: ToolPlace | null): void {
    cancelAnimationFrame(this.frame);
    if (place === null) {
      this.target.faced(null);
      return;
    }
    this.frame = requestAnimationFrame(() => this.target.faced(this.faceAt(place)));
  }

  key({ key }: ToolKey, middle: ToolPlace): boolean {
    if (key !== ' ') return false;
    this.tap(middle);
    return true;
  }

  dispose(): void {
    cancelAnimationFrame(this.frame);
    this.target.faced(null);
  }

  private faceAt({ hit }: ToolPlace): FittedFace | null {
    if (hit === null) return null;
    this.table ??= new FacetTable(this.surface);
    return this.table.fitFace(hit.point, hit.tri);
  }
}
