import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { SnappedPoint, SnapTo } from '../../core/parting/draw/SnappedPoint.ts';
import type { PartingLinePlan, PlanDocument } from '../../core/plan/PlanDocument.ts';
import type { LinePicture, Planner } from '../../jobs/protocol.ts';
import {
  addLine,
  adoptLines,
  movePoint,
  removePoint,
  replacePoints,
  splitPiece,
} from '../../session/partingActions.ts';
import type { PlanEdit, SessionStore } from '../../session/SessionStore.ts';
import { addNotHere } from '../../session/undercutActions.ts';
import { failureOf, isAbort } from './failureOf.ts';
import { insertionIndex } from './insertionIndex.ts';
import { linesNow, partingNow } from './linesNow.ts';
import { NewestOnly } from './NewestOnly.ts';

/** Id of the line being drawn in the picture; no line of a plan has it. */
const DRAFT_ID = 'draft';

/** A point snaps to what lies within this share of the scan's size. A choice: some 10 mm on a mould 400 mm tall. */
const SNAP_REACH_SHARE = 0.025;

export interface DrafterState {
  /** draw: clicks add to a new line. edit: points of the lines there are can be moved. measure: two points. avoid: an area that suggested lines keep out of. */
  readonly mode: 'look' | 'draw' | 'edit' | 'measure' | 'avoid';
  /** Points of the line being drawn, or the one or two of the measure. */
  readonly points: readonly Vec3[];
  readonly closed: boolean;
  /** What the view shows for the line being drawn or dragged. */
  readonly picture: LinePicture | null;
  readonly selected: { readonly line: number; readonly point: number | null } | null;
  readonly problem: string | null;
  /** What points snap to while they are set and dragged. */
  readonly snapTo: readonly SnapTo[];
  /** What the latest point snapped to; null: nothing, or not known yet. */
  readonly snapped: SnapTo | null;
  /** Id of the piece that the line being drawn is to cut in two; null for any other line. */
  readonly splitting: string | null;
  /** True while a line is being smoothed. */
  readonly isSmoothing: boolean;
}

const AT_REST: Omit<DrafterState, 'snapTo'> = {
  mode: 'look',
  points: [],
  closed: false,
  picture: null,
  selected: null,
  problem: null,
  snapped: null,
  splitting: null,
  isSmoothing: false,
};

/** A point of a line being dragged, as the pointer has it. */
interface Drag {
  readonly line: number;
  readonly index: number;
  readonly point: Vec3;
}

/** Draws and edits parting lines: takes hits on the rubber, shows the path at once, changes the plan when done. */
export class LineDrafter {
  private current: DrafterState = { ...AT_REST, snapTo: [] };
  /** The latest place of the point being dragged: what comes back for an earlier one is late. */
  private drag: Drag | null = null;
  /** The line handed to the plan last, with the plan that holds it. */
  private taken: (Pick<DrafterState, 'points' | 'closed' | 'splitting'> & { plan: PlanDocument }) | null =
    null;
  /** Points that the plan has refused: what it said of them stands until they change. */
  private refused: readonly Vec3[] | null = null;
  private readonly snaps: NewestOnly<Drag, SnappedPoint>;
  private readonly paths: NewestOnly<{ id: string; points: readonly Vec3[]; closed: boolean }, LinePicture>;

  constructor(
    private readonly store: SessionStore,
    private readonly planner: Planner,
    private readonly changed: () => void,
  ) {
    this.snaps = new NewestOnly(
      ({ point }) => this.snap(point),
      (snapped, drag) => {
        if (drag === this.drag) this.showDrag({ ...drag, point: snapped.point }, snapped.to);
      },
      (error) => this.put({ problem: failureOf(error).message }),
    );
    store.subscribe(() => this.takeUpAgain());
    this.paths = new NewestOnly(
      ({ points, closed }) => planner.path(points, closed),
      (picture, request) => {
        const isRefused = this.refused !== null && this.refused === this.current.points;
        this.put({
          picture: { ...picture, id: request.id },
          problem: isRefused ? this.current.problem : null,
        });
      },
      (error) => this.put({ problem: failureOf(error).message }),
    );
  }

  get state(): DrafterState {
    return this.current;
  }

  /** Points set or dragged from now on snap to this kind as well, or no more. */
  setSnap(to: SnapTo, isOn: boolean): void {
    const others = this.current.snapTo.filter((kind) => kind !== to);
    this.put({ snapTo: isOn ? [...others, to] : others });
  }

  startDrawing(): void {
    this.start({ mode: 'draw' });
  }

  /** A line that runs round from the start, as for a cap. */
  startCap(): void {
    this.start({ mode: 'draw', closed: true });
  }

  /** A line that cuts the piece with this id in two; the other lines stay and it may end on them. */
  startSplitting(piece: string): void {
    this.start({ mode: 'draw', splitting: piece });
  }

  startEditing(): void {
    this.start({ mode: 'edit' });
  }

  startMeasuring(): void {
    this.start({ mode: 'measure' });
  }

  /** The next click on the rubber marks the middle of an area that suggested lines keep out of. */
  startAvoiding(): void {
    this.start({ mode: 'avoid' });
  }

  /** Puts the pencil down; a line not finished is dropped. */
  rest(): void {
    this.paths.drop();
    this.snaps.drop();
    this.drag = null;
    this.put(AT_REST);
  }

  /** The rubber was clicked. */
  addPoint(point: Vec3): void {
    const { mode, points, closed } = this.current;
    if (mode === 'draw') {
      this.showDraft([...points, point], closed);
      void this.snapDraftPoint(point);
    } else if (mode === 'measure') this.showMeasure(points.length >= 2 ? [point] : [...points, point]);
    else if (mode === 'edit') void this.insertPoint(point);
    else if (mode === 'avoid') {
      this.rest();
      this.store.edit(addNotHere(point));
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

  /** Enough points for a line (two, or three for one that runs round), and nothing known against it. */
  get canFinish(): boolean {
    const { mode, points, closed, problem } = this.current;
    return mode === 'draw' && problem === null && points.length >= (closed ? 3 : 2);
  }

  /** Hands the line to the plan. Its picture stays until the answer brings the real one. */
  finish(): void {
    if (!this.canFinish) return;
    const { points, closed, picture, splitting } = this.current;
    this.rest();
    this.put({ picture });
    const now = splitting === null ? null : partingNow(this.store.state);
    this.store.edit(now ? splitPiece(points, closed, now) : addLine(points, closed));
    this.taken = { points, closed, splitting, plan: this.store.state.plan };
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
    const drag: Drag = { line, index, point };
    this.drag = drag;
    // Where the pointer is, at once; where that snaps to, as soon as it is known.
    this.showDrag(drag, null);
    if (this.current.mode === 'measure') return;
    if (!isDone) {
      if (this.current.snapTo.length > 0) this.snaps.ask(drag);
      return;
    }
    this.snaps.drop();
    this.drag = null;
    void this.dropPoint(drag);
  }

  select(line: number | null, point: number | null): void {
    if (line === null || line >= this.linesShown().length) this.put({ selected: null });
    else this.put({ selected: { line, point } });
  }

  /** Smooths a line between its ends; one entry of the history. Dropped when the plan changes meanwhile. */
  async smoothLine(line: number): Promise<void> {
    const lines = this.linesNow();
    const { plan } = this.store.state;
    if (line >= lines.length || this.current.isSmoothing) return;
    this.put({ isSmoothing: true, problem: null });
    try {
      const points = await this.planner.smooth(lines[line].points, lines[line].closed);
      if (this.store.state.plan !== plan) return;
      this.put({ selected: { line, point: null } });
      this.showPath(lines[line].id, points, lines[line].closed);
      this.store.edit((now) => replacePoints(line, points)(this.adopt()(now)));
    } catch (error) {
      if (!isAbort(error)) this.put({ problem: failureOf(error).message });
    } finally {
      this.put({ isSmoothing: false });
    }
  }

  /** Takes the chosen point out of its line. */
  deleteSelected(): void {
    const { selected } = this.current;
    if (selected === null || selected.point === null) return;
    const { line, point } = selected;
    this.put({ selected: null });
    this.store.edit((plan) => removePoint(line, point)(this.adopt()(plan)));
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
    return linesNow(this.store.state);
  }

  /** The lines in the picture: while a line is drawn in their place, the suggested ones are not shown. */
  private linesShown(): readonly PartingLinePlan[] {
    const { mode, splitting } = this.current;
    const isGivingWay =
      mode === 'draw' && splitting === null && this.store.state.plan.parting.lines === 'auto';
    return isGivingWay ? [] : this.linesNow();
  }

  private adopt(): PlanEdit {
    return adoptLines(partingNow(this.store.state));
  }

  /**
   * The plan cannot use the line that was just drawn, as when it ends in the air: it comes out of the plan and under the
   * pencil again, with its points and with what is wrong.
   */
  private takeUpAgain(): void {
    const { failure, plan } = this.store.state;
    const { taken } = this;
    if (taken === null || failure?.code !== 'bad-line' || plan !== taken.plan) return;
    this.taken = null;
    // Whoever has begun something else meanwhile is not to be torn from it.
    if (this.current.mode !== 'look') return;
    const { points, closed, splitting } = taken;
    this.store.undo();
    this.put({ ...AT_REST, mode: 'draw', splitting });
    this.showDraft(points, closed);
    this.refused = points;
    this.put({ problem: failure.message });
  }

  private start(change: Partial<DrafterState>): void {
    this.rest();
    this.put({ ...AT_REST, ...change });
  }

  /** Where a point snaps to; the point itself when nothing is asked for. Rejects as the planner does. */
  private async snap(point: Vec3): Promise<SnappedPoint> {
    const { snapTo } = this.current;
    const size = this.store.state.answer?.result.scan.sizeMm;
    if (snapTo.length === 0 || !size) return { point, to: null };
    return await this.planner.snap(point, snapTo, SNAP_REACH_SHARE * Math.hypot(...size));
  }

  /** Puts a clicked point of the draft where it snaps to, unless it was moved or taken back meanwhile. */
  private async snapDraftPoint(raw: Vec3): Promise<void> {
    if (this.current.snapTo.length === 0) return;
    const found = await this.snapOrNull(raw);
    const { mode, points, closed } = this.current;
    if (found === null || mode !== 'draw' || !points.includes(raw)) return;
    this.showDraft(
      points.map((p) => (p === raw ? found.point : p)),
      closed,
    );
    this.put({ snapped: found.to });
  }

  /** Hands a dropped point to the plan, where it snaps to; where it was dropped, if that cannot be found out. */
  private async dropPoint(drag: Drag): Promise<void> {
    const lines = this.linesShown();
    const isDraft = drag.line >= lines.length;
    const id = isDraft ? DRAFT_ID : lines[drag.line].id;
    const found = this.current.snapTo.length > 0 ? await this.snapOrNull(drag.point) : null;
    const point = found?.point ?? drag.point;
    // Undone, taken back or put down meanwhile: there is no such point any more.
    const now = this.linesShown();
    if (isDraft) {
      if (found && this.current.points[drag.index] === drag.point) {
        this.showDrag({ ...drag, point }, found.to);
      }
      return;
    }
    if (now[drag.line]?.id !== id || drag.index >= now[drag.line].points.length) return;
    if (found && this.drag === null) this.showDrag({ ...drag, point }, found.to);
    this.store.edit((plan) => movePoint(drag.line, drag.index, point)(this.adopt()(plan)));
  }

  private async snapOrNull(point: Vec3): Promise<SnappedPoint | null> {
    try {
      return await this.snap(point);
    } catch (error) {
      if (!isAbort(error)) this.put({ problem: failureOf(error).message });
      return null;
    }
  }

  /** Shows the line with a point where the drag has it. */
  private showDrag({ line, index, point }: Drag, snapped: SnapTo | null): void {
    const lines = this.linesShown();
    if (line >= lines.length) {
      const points = this.current.points.map((p, i) => (i === index ? point : p));
      if (this.current.mode === 'measure') this.showMeasure(points);
      else this.showDraft(points, this.current.closed);
    } else {
      const moved = lines[line].points.map((p, i) => (i === index ? point : p));
      this.put({ selected: { line, point: index } });
      this.showPath(lines[line].id, moved, lines[line].closed);
    }
    this.put({ snapped });
  }

  /** Edit mode: a click between two points of the nearest line puts a point there. */
  private async insertPoint(point: Vec3): Promise<void> {
    const lines = this.linesNow();
    const { plan } = this.store.state;
    const place = insertionIndex(lines, point);
    if (place === null) return;
    const { id, points, closed } = lines[place.line];
    this.put({ selected: { line: place.line, point: place.index } });
    this.showPath(id, points.toSpliced(place.index, 0, point), closed);
    const found = this.current.snapTo.length > 0 ? await this.snapOrNull(point) : null;
    if (this.store.state.plan !== plan) return;
    const grown = points.toSpliced(place.index, 0, found?.point ?? point);
    if (found) {
      this.showPath(id, grown, closed);
      this.put({ snapped: found.to });
    }
    this.store.edit((now) => replacePoints(place.line, grown)(this.adopt()(now)));
  }

  private showDraft(points: readonly Vec3[], closed: boolean): void {
    this.refused = null;
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

function straightPicture(id: string, points: readonly Vec3[], closed: boolean): LinePicture {
  const controlPoints = Float32Array.from(points.flat());
  const round = closed && points.length > 2 ? [...points, points[0]] : points;
  return { id, closed, controlPoints, path: Float32Array.from(round.flat()) };
}
