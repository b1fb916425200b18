import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { MarkedArea } from '../../core/plan/PlanDocument.ts';
import {
  dabsOfStroke,
  eraseClear,
  leftAfterErasing,
  MOST_DABS,
  paintClearArea,
  startClearArea,
} from '../../session/paintActions.ts';
import type { SessionState, SessionStore } from '../../session/SessionStore.ts';
import { FIRST_CLEAR_RADIUS_MM } from '../../session/scanActions.ts';

export interface PainterState {
  /** null: the brush is laid down. */
  readonly does: 'paint' | 'erase' | null;
  /** Index of the area that is painted on; null: the next stroke begins a new one. */
  readonly area: number | null;
  /** Radius of brush and eraser, mm. On an area that is there the brush has the area's own. */
  readonly radiusMm: number;
  /** Areas as they look with the stroke under way. */
  readonly areas: readonly MarkedArea[];
  /** The area holds no more dabs. */
  readonly isFull: boolean;
}

/** Paints areas to keep clear: gathers the points of a stroke, shows it as it grows, changes the plan once when it ends. */
export class Painter {
  private does: PainterState['does'] = null;
  private area: number | null = null;
  private radiusMm = FIRST_CLEAR_RADIUS_MM;
  private stroke: readonly Vec3[] = [];
  private lastStage: SessionState['prefs']['stage'];
  private current: PainterState;
  private readonly unsubscribe: () => void;

  constructor(
    private readonly store: SessionStore,
    private readonly changed: () => void,
  ) {
    this.lastStage = store.state.prefs.stage;
    this.current = this.look();
    this.unsubscribe = store.subscribe((state) => this.follow(state));
  }

  get state(): PainterState {
    return this.current;
  }

  /** Takes the brush for an area (null: a new one), or the eraser for all of them. */
  take(does: 'paint' | 'erase', area: number | null = null): void {
    this.does = does;
    this.area = does === 'erase' ? null : area;
    const own = area === null ? undefined : this.store.state.plan.scan.keepClear[area];
    if (own) this.radiusMm = own.radiusMm;
    this.put();
  }

  setRadius(radiusMm: number): void {
    if (!(radiusMm > 0) || !Number.isFinite(radiusMm)) return;
    this.radiusMm = radiusMm;
    // Another size is another area's: all dabs of one are of one size.
    if (this.does === 'paint') this.area = null;
    this.put();
  }

  /** The brush came to this point of the rubber. */
  strokeTo(point: Vec3): void {
    if (this.does === null) return;
    this.stroke = [...this.stroke, point];
    this.put();
  }

  /** The brush was lifted: one change of the plan. `isWanted` false: the stroke is taken back. */
  lift(isWanted: boolean): void {
    const { stroke, does, area, radiusMm } = this;
    this.stroke = [];
    if (isWanted && stroke.length > 0 && does !== null) {
      const { keepClear } = this.store.state.plan.scan;
      if (does === 'erase') this.store.edit(eraseClear(stroke, radiusMm));
      else if (area === null) {
        this.area = keepClear.length;
        this.store.edit(startClearArea(dabsOfStroke(stroke, [], radiusMm), radiusMm));
      } else {
        this.store.edit(paintClearArea(area, dabsOfStroke(stroke, keepClear[area].dabsMm, radiusMm)));
      }
    }
    this.put();
  }

  /** Lays the brush down. */
  rest(): void {
    this.stroke = [];
    this.does = null;
    this.area = null;
    this.put();
  }

  dispose(): void {
    this.unsubscribe();
  }

  private follow({ plan, prefs, scan }: SessionState): void {
    const { keepClear } = plan.scan;
    // An area that was taken back by undo is painted on no more, and no brush is left in the hand on another stage.
    if (this.area !== null && this.area >= keepClear.length) this.area = null;
    if (prefs.stage !== this.lastStage || scan === null) {
      this.does = null;
      this.stroke = [];
    }
    this.lastStage = prefs.stage;
    this.current = this.look();
  }

  private put(): void {
    this.current = this.look();
    this.changed();
  }

  private look(): PainterState {
    const { does, area, radiusMm, stroke } = this;
    const { keepClear } = this.store.state.plan.scan;
    return {
      does,
      area,
      radiusMm,
      areas: stroke.length === 0 ? keepClear : this.withStroke(keepClear),
      isFull: area !== null && (keepClear[area]?.dabsMm.length ?? 0) >= MOST_DABS,
    };
  }

  private withStroke(keepClear: readonly MarkedArea[]): readonly MarkedArea[] {
    const { does, area, radiusMm, stroke } = this;
    if (does === 'erase') {
      return keepClear.map((one) => ({ ...one, dabsMm: leftAfterErasing(one.dabsMm, stroke, radiusMm) }));
    }
    if (area === null)
      return [...keepClear, { name: '', radiusMm, dabsMm: dabsOfStroke(stroke, [], radiusMm) }];
    return keepClear.map((one, i) =>
      i === area ? { ...one, dabsMm: [...one.dabsMm, ...dabsOfStroke(stroke, one.dabsMm, radiusMm)] } : one,
    );
  }
}
