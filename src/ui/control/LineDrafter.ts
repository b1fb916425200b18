import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PartingLinePlan } from '../../core/plan/PlanDocument.ts';
import type { LinePicture, Planner } from '../../jobs/protocol.ts';
import { addLine, adoptLines, movePoint, removePoint } from '../../session/partingActions.ts';
import type { SessionStore } from '../../session/SessionStore.ts';
import { addKeepClear } from '../../session/scanActions.ts';
import { failureOf } from './failureOf.ts';
import { insertionIndex } from './insertionIndex.ts';
import { NewestOnly } from './NewestOnly.ts';

/** Id of the line being drawn in the picture; no line of a plan has it. */
const DRAFT_ID = 'draft';

export interface DrafterState {
  /** draw: clicks add to a new line. edit: points of the lines there are can be moved. measure: two points. clear: an area to keep clear. */
  readonly mode: 'look' | 'draw' | 'edit' | 'measure' | 'clear';
  /** Points of the line being drawn, or the one or two of the measure. */
  readonly points: readonly Vec3[];
  readonly closed: boolean;
  /** What the view shows for the line being drawn or dragged. */
  readonly picture: LinePicture | null;
  readonly selected: { readonly line: number; readonly point: number | null } | null;
  readonly problem: string | null;
}

const AT_REST: DrafterState = {
  mode: 'look',
  points: [],
  closed: false,
  picture: null,
  selected: null,
  problem: null,
};

/** Draws and edits parting lines: takes hits on the rubber, shows the path at once, changes the plan when done. */
export class LineDrafter {
  private current = AT_REST;
  private readonly paths: NewestOnly<{ id: string; points: readonly Vec3[]; closed: boolean }, LinePicture>;

  constructor(
    private readonly store: SessionStore,
    planner: Planner,
    private readonly changed: () => void,
  ) {
    this.paths = new NewestOnly(
      ({ points, closed }) => planner.path(points, closed),
      (picture, request) => this.put({ picture: { ...picture, id: request.id }, problem: null }),
      (error) => this.put({ problem: failureOf(error).message }),
    );
  }

  get state(): DrafterState {
    return this.current;
  }

  startDrawing(): void {
    this.rest();
    this.put({ ...AT_REST, mode: 'draw' });
  }

  startEditing(): void {
    this.rest();
    this.put({ ...AT_REST, mode: 'edit' });
  }

  startMeasuring(): void {
    this.rest();
    this.put({ ...AT_REST, mode: 'measure' });
  }

  startClearing(): void {
    this.rest();
    this.put({ ...AT_REST, mode: 'clear' });
  }

  /** Puts the pencil down; a line not finished is dropped. */
  rest(): void {
    this.paths.drop();
    this.put(AT_REST);
  }

  /** The rubber was clicked. */
  addPoint(point: Vec3): void {
    const { mode, points, closed } = this.current;
    if (mode === 'draw') this.showDraft([...points, point], closed);
    else if (mode === 'measure') this.showMeasure(points.length >= 2 ? [point] : [...points, point]);
    else if (mode === 'edit') this.insertPoint(point);
    else if (mode === 'clear') {
      this.rest();
      this.store.edit(addKeepClear(point));
    }
  }

  /** Takes the last point of the line being drawn back. False when there is none. */
  stepBack(): boolean {
    const { mode, points, closed } = this.current;
    if ((mode !== 'draw' && mode !== 'measure') || points.length === 0) return false;
    if (mode === 'draw') this.showDraft(points.slice(0, -1), closed);
    else this.showMeasure(points.slice(0, -1));
    return true;
  }

  setClosed(closed: boolean): void {
    this.showDraft(this.current.points, closed);
  }

  /** Enough points for a line: two, or three for one that runs round. */
  get canFinish(): boolean {
    return this.current.mode === 'draw' && this.current.points.length >= (this.current.closed ? 3 : 2);
  }

  /** Hands the line to the plan. Its picture stays until the answer brings the real one. */
  finish(): void {
    if (!this.canFinish) return;
    const { points, closed, picture } = this.current;
    this.paths.drop();
    this.put({ ...AT_REST, picture });
    this.store.edit(addLine(points, closed));
  }

  /** Straight distance between the two points of the measure, mm; null before both are set. */
  get measuredMm(): number | null {
    const { mode, points } = this.current;
    if (mode !== 'measure' || points.length < 2) return null;
    const [a, b] = points;
    return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
  }

  /** A control point is being dragged, or was dropped. */
  movePoint(line: number, index: number, point: Vec3, isDone: boolean): void {
    const lines = this.linesShown();
    if (line >= lines.length) {
      const points = this.current.points.map((p, i) => (i === index ? point : p));
      if (this.current.mode === 'measure') this.showMeasure(points);
      else this.showDraft(points, this.current.closed);
      return;
    }
    const moved = lines[line].points.map((p, i) => (i === index ? point : p));
    this.put({ selected: { line, point: index } });
    this.showPath(lines[line].id, moved, lines[line].closed);
    if (!isDone) return;
    this.store.edit((plan) => movePoint(line, index, point)(this.own(plan.parting.lines, lines)(plan)));
  }

  select(line: number | null, point: number | null): void {
    if (line === null || line >= this.linesShown().length) this.put({ selected: null });
    else this.put({ selected: { line, point } });
  }

  /** Takes the chosen point out of its line. */
  deleteSelected(): void {
    const { selected } = this.current;
    if (selected === null || selected.point === null) return;
    const { line, point } = selected;
    const lines = this.linesNow();
    this.put({ selected: null });
    this.store.edit((plan) => removePoint(line, point)(this.own(plan.parting.lines, lines)(plan)));
  }

  /** An answer has come: the pictures of finished drawing give way to its lines. */
  settle(): void {
    if (this.current.mode !== 'draw' && this.current.mode !== 'measure' && this.current.picture !== null) {
      this.put({ picture: null });
    }
    const { selected } = this.current;
    const lines = this.linesNow();
    if (
      selected &&
      (selected.line >= lines.length || (selected.point ?? 0) >= lines[selected.line].points.length)
    ) {
      this.put({ selected: null });
    }
  }

  /** The lines as they lie, in the plan's form: the user's own, or the suggested ones of the present answer. */
  linesNow(): readonly PartingLinePlan[] {
    const { plan, answer } = this.store.state;
    if (plan.parting.lines !== 'auto') return plan.parting.lines;
    return (answer?.geometry.lines ?? []).map((line) => ({
      id: line.id,
      closed: line.closed,
      points: pointsOf(line.controlPoints),
    }));
  }

  /** The lines in the picture: while a line is drawn in their place, the suggested ones are not shown. */
  private linesShown(): readonly PartingLinePlan[] {
    const isGivingWay = this.current.mode === 'draw' && this.store.state.plan.parting.lines === 'auto';
    return isGivingWay ? [] : this.linesNow();
  }

  private own(lines: readonly PartingLinePlan[] | 'auto', shown: readonly PartingLinePlan[]) {
    return lines === 'auto' ? adoptLines(shown) : adoptLines(lines);
  }

  /** Edit mode: a click between two points of the nearest line puts a point there. */
  private insertPoint(point: Vec3): void {
    const lines = this.linesNow();
    const place = insertionIndex(lines, point);
    if (place === null) return;
    const grown = lines.map((line, i) =>
      i === place.line ? { ...line, points: line.points.toSpliced(place.index, 0, point) } : line,
    );
    this.put({ selected: { line: place.line, point: place.index } });
    this.store.edit(adoptLines(grown));
  }

  private showDraft(points: readonly Vec3[], closed: boolean): void {
    this.put({ points, closed, problem: null });
    if (points.length === 0) {
      this.paths.drop();
      this.put({ picture: null });
    } else this.showPath(DRAFT_ID, points, closed);
  }

  private showMeasure(points: readonly Vec3[]): void {
    this.put({ points, picture: points.length === 0 ? null : straightPicture(DRAFT_ID, points, false) });
  }

  /** Straight strokes at once, the path along the surface as soon as it is known. */
  private showPath(id: string, points: readonly Vec3[], closed: boolean): void {
    const old = this.current.picture;
    const kept = old?.id === id && old.path.length > 0 && points.length > 1 ? old.path : null;
    const straight = straightPicture(id, points, closed);
    this.put({ picture: kept ? { ...straight, path: kept } : straight });
    if (points.length > 1) this.paths.ask({ id, points, closed });
  }

  private put(change: Partial<DrafterState>): void {
    this.current = { ...this.current, ...change };
    this.changed();
  }
}

function pointsOf(flat: Float32Array): Vec3[] {
  const points: Vec3[] = [];
  for (let i = 0; i + 2 < flat.length; i += 3) points.push([flat[i], flat[i + 1], flat[i + 2]]);
  return points;
}

function straightPicture(id: string, points: readonly Vec3[], closed: boolean): LinePicture {
  const controlPoints = Float32Array.from(points.flat());
  const round = closed && points.length > 2 ? [...points, points[0]] : points;
  return { id, closed, controlPoints, path: Float32Array.from(round.flat()) };
}
