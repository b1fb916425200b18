import type { Box, Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import type { SurfacePicture } from '../../jobs/protocol.ts';
import { type CutDraft, type CutKind, draftOfCrop, firstCut, planeOfCut } from '../../session/cutDraft.ts';
import { isStale, type PlanEdit, type SessionStore } from '../../session/SessionStore.ts';
import { addCrop, replaceCrop } from '../../session/scanActions.ts';
import { type Standing, setBoardHeight, standAnew, standingOf } from '../../session/standAnew.ts';
import { turnVector } from '../../session/turnPlan.ts';
import {
  multiply,
  NO_TURN,
  type Rotation,
  rotationAbout,
  rotationBetween,
  snapLevel,
  transposed,
} from '../../session/uprightAngles.ts';
import { NO_TRIAL, type Trial } from '../../view/viewTypes.ts';
import { lowestTurnedMm } from './lowestTurnedMm.ts';

export type StandMode = 'rest' | 'turn' | 'base' | 'board' | 'crop';

export interface StanderState {
  readonly mode: StandMode;
  /** What the view draws of what is being tried, or was taken and is not worked out yet. */
  readonly trial: Trial;
  /** Height of the board being tried, mm above the one in the picture. */
  readonly boardMm: number;
  readonly cut: CutDraft | null;
  /** The cut of the plan that is being moved; null: it is a new one. */
  readonly cutIndex: number | null;
  /** True from the moment a change was taken until its answer is there. */
  readonly isWaiting: boolean;
}

const AT_REST: StanderState = {
  mode: 'rest',
  trial: NO_TRIAL,
  boardMm: 0,
  cut: null,
  cutIndex: null,
  isWaiting: false,
};

/** Let go within so many degrees of upright, the mould is set upright exactly. Own choice: a hand does no better. */
const SNAP_DEG = 3;
/** Turns by keys are worked out when the keys rest. */
const KEY_REST_MS = 500;
const DOWN: Vec3 = [0, 0, -1];

/**
 * Sets the mould upright, on its face, on its board, and cuts away what does not belong to it. What is tried is drawn at
 * once; the plan changes, with one entry of its history, when it is let go of or taken.
 */
export class Stander {
  private current = AT_REST;
  /** How the mould stands in the picture, and its surface there; null: nothing can be tried now. */
  private shown: { readonly standing: Standing; readonly rubber: SurfacePicture; readonly box: Box } | null =
    null;
  /** How it stands by the plan, which may be ahead of the picture. */
  private planned: Standing | null = null;
  /** The turn tried, from how it stands in the picture. */
  private turn: Rotation = NO_TURN;
  /** The plan as this class left it, until its answer is there. */
  private left: { readonly plan: PlanDocument; readonly revision: number } | null = null;
  private slideFrom: { readonly boardMm: number; readonly cut: CutDraft | null } | null = null;
  private keyTimer: ReturnType<typeof setTimeout> | undefined;
  private readonly stop: () => void;

  constructor(
    private readonly store: SessionStore,
    private readonly changed: () => void,
  ) {
    this.stop = store.subscribe(() => this.follow());
  }

  get state(): StanderState {
    return this.current;
  }

  /** Takes a tool in hand; nothing happens while there is no answer to the present plan, since the picture would be of another. */
  start(mode: Exclude<StandMode, 'rest' | 'crop'>): void {
    this.rest();
    if (this.look()) this.put({ mode });
  }

  startCut(kind: CutKind): void {
    this.rest();
    if (this.look() && this.shown) this.showCut(firstCut(kind, this.shown.box), null);
  }

  /** Takes a cut of the plan up again; what it took away shows when it is put back or moved. */
  moveCut(index: number): void {
    this.rest();
    const crop = this.store.state.plan.scan.crops[index];
    if (crop && this.look()) this.showCut(draftOfCrop(crop), index);
  }

  /** Lays the tool down; what was only tried is forgotten, what was taken stays. */
  rest(): void {
    this.finishKeys();
    this.slideFrom = null;
    if (this.left) this.put({ mode: 'rest' });
    else this.put(AT_REST);
  }

  /** Turn mode: a further turn in the board's axes. */
  turnBy(axis: Vec3, angleRad: number): void {
    if (this.current.mode !== 'turn' || !this.shown) return;
    this.turn = multiply(rotationAbout(axis, angleRad), this.turn);
    this.showTurn();
  }

  /** The turn was let go of; by hand, it snaps to upright when it is near. */
  release(isByHand: boolean): void {
    clearTimeout(this.keyTimer);
    if (this.current.mode !== 'turn' || !this.shown) return;
    if (!isByHand) {
      this.keyTimer = setTimeout(() => this.takeTurn(), KEY_REST_MS);
      this.isKeyTurn = true;
      return;
    }
    const { rotation } = this.shown.standing;
    const snapped = snapLevel(multiply(this.turn, rotation), SNAP_DEG);
    this.turn = multiply(snapped, transposed(rotation));
    this.showTurn();
    this.takeTurn();
  }
  private isKeyTurn = false;

  /** Base mode: the mould is turned so that this face looks straight down, and set on it. */
  standOn(normal: Vec3, middleMm: Vec3): void {
    const { shown, planned } = this;
    if (this.current.mode !== 'base' || !shown || !planned || this.left) return;
    this.turn = rotationBetween(normal, DOWN);
    const { boardMm } = shown.standing;
    const [x, y, z] = middleMm;
    const faceMm = turnVector(this.turn, [x, y, z + boardMm])[2];
    this.put({ mode: 'rest', trial: { ...NO_TRIAL, move: this.moveTo(faceMm) } });
    this.take(standAnew(planned, this.turn, faceMm, false), {
      rotation: multiply(this.turn, shown.standing.rotation),
      boardMm: faceMm,
    });
  }

  /** Board mode: the board stands so far above where it is in the picture, mm; `isDone` takes it. */
  setBoard(mm: number, isDone: boolean): void {
    const { shown, planned } = this;
    if (this.current.mode !== 'board' || !shown || !planned) return;
    this.put({ boardMm: mm, trial: { ...NO_TRIAL, boardMm: mm } });
    if (!isDone) return;
    const boardMm = shown.standing.boardMm + mm;
    this.take(setBoardHeight(planned, boardMm), { ...planned, boardMm });
  }

  /** Crop mode: the cut as it is chosen now. */
  setCut(cut: CutDraft): void {
    if (this.current.mode === 'crop') this.showCut(cut, this.current.cutIndex);
  }

  /** Crop mode: cuts it away. What a new level cut leaves stands on the board: it is the board that goes up to the cut. */
  takeCut(): void {
    const { cut, cutIndex } = this.current;
    if (this.current.mode !== 'crop' || cut === null || !this.planned) return;
    this.put({ mode: 'rest', cut: null, cutIndex: null });
    const crop = planeOfCut(cut);
    const { shown, planned } = this;
    const riseMm = crop.normal[2] === -1 ? -crop.offsetMm : 0;
    if (shown && cutIndex === null && riseMm > 0 && this.store.state.plan.scan.board !== 'none') {
      const boardMm = shown.standing.boardMm + riseMm;
      this.take(setBoardHeight(planned, boardMm), { ...planned, boardMm });
      return;
    }
    this.take(cutIndex === null ? addCrop(crop) : replaceCrop(cutIndex, crop), planned);
  }

  /** The handle in the picture was slid by so much from where the drag began, mm along its axis. */
  slide(mm: number, isDone: boolean): void {
    const { mode, boardMm, cut } = this.current;
    this.slideFrom ??= { boardMm, cut };
    const from = this.slideFrom;
    if (isDone) this.slideFrom = null;
    if (mode === 'board') this.setBoard(from.boardMm + mm, isDone);
    else if (mode === 'crop' && from.cut) this.setCut({ ...from.cut, offsetMm: from.cut.offsetMm + mm });
  }

  /** Box of the mould in the picture that is tried on; null while nothing is. */
  get box(): Box | null {
    return this.shown?.box ?? null;
  }

  dispose(): void {
    clearTimeout(this.keyTimer);
    this.stop();
  }

  /** Reads how the mould stands in the picture. False when the picture is not of the present plan. */
  private look(): boolean {
    const { state } = this.store;
    const rubber = state.answer?.geometry.rubber;
    if (this.left) return false;
    if (!state.answer || !rubber || isStale(state)) {
      this.shown = null;
      this.planned = null;
      return false;
    }
    const standing = standingOf(state.answer.geometry.fileToBoard);
    this.shown = { standing, rubber, box: rubber.box };
    this.planned = standing;
    this.turn = NO_TURN;
    return true;
  }

  private showTurn(): void {
    this.put({ trial: { ...NO_TRIAL, move: this.moveTo(this.boardAfterTurn()) } });
  }

  private takeTurn(): void {
    const { shown, planned } = this;
    this.isKeyTurn = false;
    if (!shown || !planned) return;
    const rotation = multiply(this.turn, shown.standing.rotation);
    const step = multiply(rotation, transposed(planned.rotation));
    const boardMm = this.boardAfterTurn();
    this.take(standAnew(planned, step, boardMm, !this.isBoardSet()), { rotation, boardMm });
  }

  /**
   * Height of the board over the file's origin after the turn, mm: a board set by hand stays as far below the mould's
   * middle as it was; one that is found goes under the lowest point.
   */
  private boardAfterTurn(): number {
    if (!this.shown) return 0;
    const { standing, box, rubber } = this.shown;
    const [x, y, z] = middleOf(box);
    const middleMm = turnVector(this.turn, [x, y, z + standing.boardMm])[2];
    if (this.isBoardSet()) return middleMm - z;
    return lowestTurnedMm(rubber.positions, this.turn) + standing.boardMm * this.turn[8];
  }

  private isBoardSet(): boolean {
    return typeof this.store.state.plan.scan.board === 'number';
  }

  /**
   * The move that the view draws, row-major 3 x 4: the turn tried, about the mould's own middle (seen from above it stays
   * where it is), with the board at this height over the file's origin.
   */
  private moveTo(boardMm: number): number[] {
    if (!this.shown) return [];
    const r = this.turn;
    const c = middleOf(this.shown.box);
    const turned = turnVector(r, c);
    const lift = r[8] * this.shown.standing.boardMm - boardMm;
    return [...r.slice(0, 3), c[0] - turned[0], ...r.slice(3, 6), c[1] - turned[1], ...r.slice(6, 9), lift];
  }

  private showCut(cut: CutDraft, cutIndex: number | null): void {
    this.put({ mode: 'crop', cut, cutIndex, trial: { ...NO_TRIAL, planes: [planeOfCut(cut)] } });
  }

  /** Changes the plan; the trial stays drawn until its answer is there. */
  private take(edit: PlanEdit, standing: Standing): void {
    const before = this.store.state.plan;
    // Set ahead of the edit, which is heard of before it returns.
    this.planned = standing;
    this.isTaking = true;
    this.store.edit(edit);
    this.isTaking = false;
    const { plan, revision } = this.store.state;
    if (plan === before) {
      // Nothing changed: there is no answer to wait for.
      if (!this.left) this.settle();
      return;
    }
    this.left = { plan, revision };
    this.put({ isWaiting: true });
  }
  private isTaking = false;

  /** Follows the session: an answer, an undo, another scan or stage ends what was tried. */
  private follow(): void {
    if (this.isTaking) return;
    const { plan, answer, failure, prefs } = this.store.state;
    if (prefs.stage !== 'scan' && this.current.mode !== 'rest') this.rest();
    if (this.left === null) {
      // Changed by other means while a tool is in hand: it is laid down, since what it tries on is about to go.
      if (this.current !== AT_REST && this.shown && isStale(this.store.state)) this.put(AT_REST);
      return;
    }
    const isAnswered = answer !== null && answer.revision >= this.left.revision;
    if (plan === this.left.plan && !isAnswered && failure === null) return;
    this.left = null;
    this.settle();
  }

  /** The picture is up to date again, or lost: what was tried goes, the tool stays in hand when it can go on. */
  private settle(): void {
    const { mode } = this.current;
    const goesOn = (mode === 'turn' || mode === 'board') && this.look();
    this.put({ ...AT_REST, mode: goesOn ? mode : 'rest' });
  }

  /** What keys have turned is not lost when the tool is laid down before they rested. */
  private finishKeys(): void {
    clearTimeout(this.keyTimer);
    if (this.isKeyTurn) this.takeTurn();
  }

  private put(change: Partial<StanderState>): void {
    this.current = change === AT_REST ? AT_REST : { ...this.current, ...change };
    this.changed();
  }
}

function middleOf({ min, max }: Box): Vec3 {
  return [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
}
