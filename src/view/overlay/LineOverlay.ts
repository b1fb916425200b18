import { Group, type Matrix4, type Object3D } from 'three';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { LinePicture } from '../../jobs/protocol.ts';
import type { ControlPointRef } from '../pointer/hitControlPoint.ts';
import type { ViewShow, ViewTheme } from '../viewTypes.ts';
import { FatLine } from './FatLine.ts';
import {
  type FatLineLook,
  makeFatLineMaterial,
  type OverlayFrame,
  type SharedCut,
} from './fatLineMaterial.ts';
import { POINT_STATE, type PointMark, PointMarks } from './PointMarks.ts';

const LINE: FatLineLook = { widthPx: 2.6, dashPx: null, opacity: 1, part: 'front', liftPx: 5 };
const STRONG: FatLineLook = { ...LINE, widthPx: 3.6 };
/** A drawing shows what is hidden by a thin broken line. */
const HIDDEN: FatLineLook = { widthPx: 1.2, dashPx: [5, 4], opacity: 0.55, part: 'hidden', liftPx: 5 };

/** What becomes of a control point in a frame: drawn, behind the mould, or cut away with it. */
export type PointFate = 'seen' | 'hidden' | 'gone';

/** Parting lines with their control points, and the line being drawn. */
export class LineOverlay {
  private readonly root = new Group();
  private readonly plain: FatLine;
  private readonly strong: FatLine;
  private readonly points: PointMarks;
  private answerLines: readonly LinePicture[] = [];
  private draft: LinePicture | null = null;
  /** A control point on its way, until its owner answers with new lines. */
  private moved: { readonly ref: ControlPointRef; readonly point: Vec3 } | null = null;
  private ghost: Vec3 | null = null;
  private drawnPoints: readonly PointMark[] = [];

  constructor(parent: Object3D, frame: OverlayFrame, cut: SharedCut) {
    parent.add(this.root);
    const make = (look: FatLineLook) => makeFatLineMaterial(frame, cut, look);
    this.plain = new FatLine(this.root, [make(HIDDEN), make(LINE)], 10);
    this.strong = new FatLine(this.root, [make(HIDDEN), make(STRONG)], 11);
    this.points = new PointMarks(this.root, frame, 12);
  }

  setLines(lines: readonly LinePicture[]): void {
    this.answerLines = lines;
    this.draft = null;
    this.moved = null;
  }

  setDraft(line: LinePicture | null): void {
    this.draft = line;
    this.moved = null;
  }

  movePoint(ref: ControlPointRef, point: Vec3): void {
    this.moved = { ref, point };
  }

  /** Where a click would set a point. */
  setGhost(point: Vec3 | null): void {
    this.ghost = point;
  }

  /** All lines by index: those of the answer, with the draft in the place of its namesake or after them. */
  get lines(): readonly LinePicture[] {
    const { draft, answerLines } = this;
    if (draft === null) return answerLines;
    const at = answerLines.findIndex((line) => line.id === draft.id);
    if (at < 0) return [...answerLines, draft];
    return answerLines.map((line, i) => (i === at ? draft : line));
  }

  /** Control points as they are shown now, in order of line and point. */
  controlPoints(): { readonly ref: ControlPointRef; readonly point: Vec3 }[] {
    const out: { ref: ControlPointRef; point: Vec3 }[] = [];
    this.lines.forEach(({ controlPoints }, line) => {
      for (let i = 0; i < controlPoints.length; i += 3) {
        const point = i / 3;
        const isMoved = this.moved?.ref.line === line && this.moved.ref.point === point;
        out.push({
          ref: { line, point },
          point: isMoved ? this.moved!.point : [controlPoints[i], controlPoints[i + 1], controlPoints[i + 2]],
        });
      }
    });
    return out;
  }

  /** Draws all of it moved, along with the mould; null: in its place. */
  setMove(move: Matrix4 | null): void {
    this.root.matrixAutoUpdate = false;
    if (move === null) this.root.matrix.identity();
    else this.root.matrix.copy(move);
    this.root.matrixWorldNeedsUpdate = true;
  }

  /** Builds the lines that are drawn from what is known. */
  redrawLines(show: ViewShow): void {
    const lines = show.lines ? this.lines : [];
    this.plain.setPaths(lines.filter((_, i) => i !== show.highlightLine).map((line) => line.path));
    this.strong.setPaths(lines.filter((_, i) => i === show.highlightLine).map((line) => line.path));
  }

  /** Builds the control points that are drawn; `areShown` false: none. */
  redrawPoints(show: ViewShow, areShown: boolean): void {
    const drawn: PointMark[] = [];
    if (show.lines && areShown) {
      for (const { ref, point } of this.controlPoints()) {
        const isChosen = ref.line === show.highlightLine && ref.point === show.highlightPoint;
        drawn.push({ point, state: isChosen ? POINT_STATE.filled : POINT_STATE.ring });
      }
      if (this.ghost !== null) drawn.push({ point: this.ghost, state: POINT_STATE.ghost });
    }
    this.drawnPoints = drawn;
    this.points.setMarks(drawn);
  }

  /** Before each frame: points behind the mould become small and faint, those cut away are left out. */
  hidePoints(fateOf: (point: Vec3) => PointFate): void {
    if (this.drawnPoints.length === 0) return;
    this.points.setStates(
      this.drawnPoints.map(({ point, state }) => {
        const fate = fateOf(point);
        return fate === 'seen' ? state : POINT_STATE[fate];
      }),
    );
  }

  setTheme(theme: ViewTheme): void {
    this.plain.setTint(theme.accent);
    this.strong.setTint(theme.accent);
    this.points.setTint(theme.accent, theme.paper);
  }

  dispose(): void {
    for (const line of [this.plain, this.strong]) line.dispose();
    this.points.dispose();
    this.root.removeFromParent();
  }
}
