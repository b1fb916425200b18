import { isStale, type SessionState } from '../../session/SessionStore.ts';
import type { DrafterState } from '../control/LineDrafter.ts';
import { mapAsked } from '../control/MapDrawer.ts';
import { depthLevels } from './depthLevels.ts';
import { deepestMm } from './lockKinds.ts';
import { touchSpan } from './touchSpan.ts';

/** What hangs on more than the session: the pencil, a suggestion looked at, pieces slid by themselves. */
export interface FigureState {
  readonly session: SessionState;
  readonly drafter: Pick<DrafterState, 'mode' | 'splitting'>;
  readonly hasProposal: boolean;
  /** Pieces that were slid by themselves, by index, mm. */
  readonly slidMm: ReadonlyMap<number, number>;
  readonly areUndercutsShown: boolean;
}

/** What is in sight in the figure as it stands. Plain questions to the state, without the view. */
export class FigureSight {
  constructor(private readonly state: FigureState) {}

  get isDrawing(): boolean {
    return this.state.drafter.mode !== 'look';
  }

  /**
   * While a line is drawn in its place, the suggested one is out of the way with its pieces: its points would catch the
   * clicks, and its tints would speak of a parting that is about to go.
   */
  get isLineGivingWay(): boolean {
    const { session, drafter } = this.state;
    const { answer, plan } = session;
    const { lines } = plan.parting;
    if (lines === 'auto') return drafter.mode === 'draw' && drafter.splitting === null;
    // The line was taken and its answer is on the way: what is shown still parts along the suggested one.
    return answer?.geometry.lines.every((shown) => !lines.some((line) => line.id === shown.id)) ?? false;
  }

  /** A map is to lie on the rubber, and nothing lies over it: no shell, no cut, no pencil, no suggestion. */
  get isMapChosen(): boolean {
    const { prefs } = this.session;
    const isFree = !prefs.isShellShown && !prefs.isSectionOn && !this.isDrawing;
    return isFree && !this.state.hasProposal && !this.isLineGivingWay && mapAsked(this.session) !== null;
  }

  /** The scan itself, in clay: its pieces are the next stage's matter, unless a map lies on them. */
  get isBare(): boolean {
    const isScan = this.state.session.prefs.stage === 'scan' && !this.isMapChosen;
    return isScan || this.state.hasProposal || this.isLineGivingWay;
  }

  /** The mould's width, which the slider for all slides the pieces apart at most, mm. */
  get reachMm(): number {
    const rubber = this.state.session.answer?.geometry.rubber;
    if (!rubber) return 0;
    const { min, max } = rubber.box;
    return Math.max(max[0] - min[0], max[1] - min[1]);
  }

  /** How far all pieces are slid along their pulls, mm; lines are drawn on the closed mould only. */
  get apartMm(): number {
    return this.isDrawing ? 0 : this.state.session.prefs.apart * this.reachMm;
  }

  /** How far a piece is slid now, mm. */
  apartOf(piece: number): number {
    return this.state.slidMm.get(piece) ?? this.state.session.prefs.apart * this.reachMm;
  }

  /** True when every piece stands where it belongs. */
  get isClosed(): boolean {
    return this.state.session.prefs.apart === 0 && [...this.state.slidMm.values()].every((mm) => mm === 0);
  }

  /** What locks is the matter of stage 2; while a line is drawn in place of another it would speak of the old one. */
  get hasUndercuts(): boolean {
    const { answer, prefs } = this.state.session;
    if (prefs.stage !== 'parting' || this.isBare || this.isMapChosen) return false;
    return answer?.geometry.pieces.some((piece) => piece.undercut !== null) ?? false;
  }

  /** True when closed shells do not lie over what locks. */
  get canLocksBeSeen(): boolean {
    const areCovered = this.session.prefs.isShellShown && !this.isDrawing && this.isClosed;
    return this.hasUndercuts && !areCovered;
  }

  /** True when hatching is seen. */
  get areLocksInSight(): boolean {
    return this.canLocksBeSeen && this.state.areUndercutsShown;
  }

  /** Depths at which lines run, mm. */
  get levelsMm(): readonly number[] {
    const { answer, prefs } = this.session;
    const told = answer?.result.pieces.map(({ undercut }) => undercut?.maxDepthMm ?? 0) ?? [];
    // The picture's depths are a map's; the figures are exact, so no line is promised beyond them.
    const deepest = Math.max(0, ...told) || deepestMm(answer?.geometry.pieces ?? []);
    return depthLevels(deepest, prefs.units);
  }

  /** True when the shell of this piece is slid to where it is inside the rubber. */
  isInside(piece: number): boolean {
    const touch = this.session.answer?.geometry.pieces[piece]?.touch;
    const span = touch ? touchSpan(touch) : null;
    return span !== null && this.apartOf(piece) > span.firstMm && this.apartOf(piece) < span.lastMm;
  }

  /** True when some piece's shell is slid to where it is inside the rubber, and shells are shown. */
  get isTouchSeen(): boolean {
    const { prefs, answer } = this.session;
    if (!prefs.isShellShown || this.isDrawing || !answer) return false;
    return answer.geometry.pieces.some((_, i) => this.isInside(i));
  }

  /** Marked areas that this stage shows. A mark made in one plan stands for the next too, but the scan under it may be another meanwhile. */
  get areas() {
    const { plan, prefs } = this.session;
    if (prefs.stage === 'scan') return isStale(this.session) ? [] : plan.scan.keepClear;
    return prefs.stage === 'parting' ? plan.parting.notHere : [];
  }

  private get session(): SessionState {
    return this.state.session;
  }
}
