import { Group, type Matrix4, type Object3D } from 'three';
import type { MarkPicture } from '../../jobs/protocol.ts';
import { darkerOf } from '../darkerOf.ts';
import type { ViewShow, ViewTheme } from '../viewTypes.ts';
import { FatLine } from './FatLine.ts';
import {
  type FatLineLook,
  makeFatLineMaterial,
  type OverlayFrame,
  type SharedCut,
} from './fatLineMaterial.ts';
import { type FoundFill, type FoundStroke, foundLook } from './foundLooks.ts';
import { foundPaths } from './foundPaths.ts';
import { PatchHatch } from './PatchHatch.ts';

const STROKES: readonly FoundStroke[] = ['whole', 'broken', 'dotted'];
const FILLS: readonly Exclude<FoundFill, null>[] = ['rising', 'falling', 'level', 'upright', 'dots'];
const DASHES: Readonly<Record<FoundStroke, readonly [number, number] | null>> = {
  whole: null,
  broken: [5, 4],
  dotted: [1, 4],
};

const PLAIN_PX = 1.6;
const GONE_PX = 1.2;
const STRONG_PX = 2.8;
const LIFT_PX = 4;

/** Findings of one strength and ink: their lines by stroke, their patches by filling. */
interface Layer {
  readonly lines: ReadonlyMap<FoundStroke, FatLine>;
  readonly hatches: ReadonlyMap<Exclude<FoundFill, null>, readonly PatchHatch[]>;
}

/**
 * What was found in the scan and mended, each kind with its own stroke and filling (foundLooks): dark on the plaster; what
 * went out of the scan in the ink of the paper that it now lies on; the kind that is asked for in accent, stronger, and faintly
 * through what stands before it.
 */
export class FoundOverlay {
  private readonly root = new Group();
  private readonly plain: Layer;
  private readonly gone: Layer;
  private readonly strong: Layer;
  private marks: readonly MarkPicture[] = [];
  private drawn: {
    readonly marks: readonly MarkPicture[];
    readonly shown: string | null | undefined;
  } | null = null;

  constructor(parent: Object3D, frame: OverlayFrame, cut: SharedCut) {
    parent.add(this.root);
    this.plain = this.makeLayer(frame, cut, PLAIN_PX, false);
    this.gone = this.makeLayer(frame, cut, GONE_PX, false);
    this.strong = this.makeLayer(frame, cut, STRONG_PX, true);
  }

  setMarks(marks: readonly MarkPicture[]): void {
    this.marks = marks;
  }

  /** Draws all of it moved, along with the mould; null: in its place. */
  setMove(move: Matrix4 | null): void {
    this.root.matrixAutoUpdate = false;
    if (move === null) this.root.matrix.identity();
    else this.root.matrix.copy(move);
    this.root.matrixWorldNeedsUpdate = true;
  }

  /** Builds what is drawn; the same marks shown in the same way are not built again. `diagonalMm`: the scan's. */
  redraw({ marks: areShown, foundShown }: ViewShow, diagonalMm: number): void {
    const shown = areShown ? (foundShown ?? null) : undefined;
    if (this.drawn?.marks === this.marks && this.drawn.shown === shown) return;
    this.drawn = { marks: this.marks, shown };
    const marks = areShown ? this.marks : [];
    const rest = marks.filter(({ code }) => code !== foundShown);
    const isGone = ({ code }: MarkPicture): boolean => foundLook(code).stroke === 'broken';
    fill(
      this.plain,
      rest.filter((mark) => !isGone(mark)),
      diagonalMm,
    );
    fill(this.gone, rest.filter(isGone), diagonalMm);
    fill(
      this.strong,
      marks.filter(({ code }) => code === foundShown),
      diagonalMm,
    );
  }

  setTheme({ paper, ink, accent }: ViewTheme): void {
    tint(this.plain, darkerOf(paper, ink));
    tint(this.gone, ink);
    tint(this.strong, accent);
  }

  dispose(): void {
    for (const { lines, hatches } of [this.plain, this.gone, this.strong]) {
      for (const line of lines.values()) line.dispose();
      for (const hatch of [...hatches.values()].flat()) hatch.dispose();
    }
    this.root.removeFromParent();
  }

  private makeLayer(frame: OverlayFrame, cut: SharedCut, widthPx: number, isSeenThrough: boolean): Layer {
    const order = isSeenThrough ? 9 : 8;
    const lines = STROKES.map((stroke) => {
      const front: FatLineLook = {
        widthPx: stroke === 'dotted' ? widthPx + 1 : widthPx,
        dashPx: DASHES[stroke],
        opacity: 1,
        part: 'front',
        liftPx: LIFT_PX,
      };
      const looks = isSeenThrough ? [front, { ...front, opacity: 0.55, part: 'hidden' as const }] : [front];
      const materials = looks.map((look) => makeFatLineMaterial(frame, cut, look));
      return [stroke, new FatLine(this.root, materials, order)] as const;
    });
    const parts = isSeenThrough ? (['front', 'hidden'] as const) : (['front'] as const);
    const hatches = FILLS.map(
      (fill) => [fill, parts.map((part) => new PatchHatch(this.root, frame, cut, fill, part))] as const,
    );
    return { lines: new Map(lines), hatches: new Map(hatches) };
  }
}

function fill({ lines, hatches }: Layer, marks: readonly MarkPicture[], diagonalMm: number): void {
  const { strokes, fills } = foundPaths(marks, diagonalMm);
  for (const [stroke, line] of lines) line.setPaths(strokes[stroke]);
  for (const [kind, own] of hatches) for (const hatch of own) hatch.setTris(fills.get(kind) ?? []);
}

function tint({ lines, hatches }: Layer, hex: string): void {
  for (const line of lines.values()) line.setTint(hex);
  for (const hatch of [...hatches.values()].flat()) hatch.setTint(hex);
}
