import type { MaterialSystem } from '../core/material/MaterialSystem.ts';
import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { SnapTo } from '../core/parting/draw/SnappedPoint.ts';
import type { PullChart } from '../core/parting/pulls/PullChart.ts';
import type { CutDraft, CutKind } from '../session/cutDraft.ts';
import type { NoticeCommand, PlanEdit } from '../session/SessionStore.ts';
import type { ViewPrefs } from '../session/ViewPrefs.ts';
import type { AskedCount } from './control/SuggestionFinder.ts';

/** An element asks for a change of the plan. Bubbles to the sheet, which applies it to the store. */
export class PlanEditEvent extends Event {
  static readonly type = 'scute-edit';
  constructor(
    readonly edit: PlanEdit,
    /** Names a drag under way; null for a change that stands by itself. */
    readonly gesture: string | null = null,
  ) {
    super(PlanEditEvent.type, { bubbles: true, composed: true });
  }
}

/** An element asks for a change of how the page is looked at. */
export class PrefsEvent extends Event {
  static readonly type = 'scute-prefs';
  constructor(readonly change: Partial<ViewPrefs>) {
    super(PrefsEvent.type, { bubbles: true, composed: true });
  }
}

export type Command =
  | { readonly do: 'pick-file' }
  | { readonly do: 'open-file'; readonly file: File }
  | { readonly do: 'open-demo' }
  | { readonly do: 'save-plan' }
  | { readonly do: 'open-drawer' }
  | { readonly do: 'close-drawer' }
  | { readonly do: 'open-kept'; readonly id: string }
  | { readonly do: 'open-unkept'; readonly index: number }
  | { readonly do: 'rename-kept'; readonly id: string; readonly name: string }
  | { readonly do: 'copy-kept'; readonly id: string }
  | { readonly do: 'bin-kept'; readonly id: string }
  | { readonly do: 'erase-kept'; readonly id: string }
  | { readonly do: 'save-kept'; readonly id: string }
  | { readonly do: 'persist-store' }
  | { readonly do: 'print' }
  | { readonly do: 'save-picture' }
  | { readonly do: 'cancel' }
  | { readonly do: 'plan-again' }
  | { readonly do: 'undo' }
  | { readonly do: 'redo' }
  | { readonly do: 'gesture-end' }
  | { readonly do: 'draw-start' }
  | { readonly do: 'draw-close'; readonly closed: boolean }
  | { readonly do: 'draw-back' }
  | { readonly do: 'draw-finish' }
  | { readonly do: 'draw-cancel' }
  | { readonly do: 'draw-cap' }
  | { readonly do: 'draw-snap'; readonly to: SnapTo; readonly on: boolean }
  | { readonly do: 'split-piece'; readonly piece: string }
  | { readonly do: 'smooth-line'; readonly line: number }
  | { readonly do: 'edit-lines' }
  | { readonly do: 'select-line'; readonly line: number | null; readonly point: number | null }
  | { readonly do: 'delete-point' }
  | { readonly do: 'paint-take'; readonly does: 'paint' | 'erase'; readonly area: number | null }
  | { readonly do: 'paint-stroke'; readonly point: Vec3 }
  | { readonly do: 'paint-lift'; readonly isWanted: boolean }
  | { readonly do: 'paint-radius'; readonly radiusMm: number }
  | { readonly do: 'paint-rest' }
  | { readonly do: 'stand-start'; readonly mode: 'turn' | 'base' | 'board' }
  | { readonly do: 'stand-turn'; readonly axis: Vec3; readonly angleRad: number }
  | { readonly do: 'stand-release'; readonly isByHand: boolean }
  | { readonly do: 'stand-on'; readonly normal: Vec3; readonly middleMm: Vec3 }
  | { readonly do: 'stand-board'; readonly mm: number; readonly isDone: boolean }
  | { readonly do: 'stand-slide'; readonly mm: number; readonly isDone: boolean }
  | { readonly do: 'stand-rest' }
  | { readonly do: 'cut-start'; readonly kind: CutKind }
  | { readonly do: 'cut-move'; readonly index: number }
  | { readonly do: 'cut-set'; readonly cut: CutDraft }
  | { readonly do: 'cut-take' }
  | { readonly do: 'measure-start' }
  | { readonly do: 'measure-cancel' }
  | { readonly do: 'measure-take'; readonly trueMm: number }
  | { readonly do: 'suggest-count'; readonly count: AskedCount }
  | { readonly do: 'suggest-start' }
  | { readonly do: 'suggest-stop' }
  | { readonly do: 'suggest-show'; readonly index: number | null }
  | { readonly do: 'suggest-hold'; readonly index: number | null }
  | { readonly do: 'suggest-take'; readonly index: number }
  | { readonly do: 'avoid-start' }
  | { readonly do: 'chart-of'; readonly of: PullChart['of'] }
  | { readonly do: 'fly-to'; readonly atMm: Vec3 }
  | { readonly do: 'slide-piece'; readonly piece: number; readonly mm: number }
  | { readonly do: 'keep-material'; readonly system: MaterialSystem }
  | { readonly do: 'drop-material'; readonly id: string }
  | { readonly do: 'remember-job' }
  | { readonly do: 'forget-job'; readonly key: string }
  | { readonly do: 'save-aside' }
  | { readonly do: 'dismiss'; readonly topic: string }
  | NoticeCommand;

/** An element asks for something that is not a change of plan or looks. */
export class CommandEvent extends Event {
  static readonly type = 'scute-command';
  constructor(readonly command: Command) {
    super(CommandEvent.type, { bubbles: true, composed: true });
  }
}
