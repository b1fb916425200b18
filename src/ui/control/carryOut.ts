import { setTrueLength } from '../../session/scanActions.ts';
import type { Command } from '../events.ts';
import type { MouldFigure } from '../figure/MouldFigure.ts';
import { saveBlob } from '../saveBlob.ts';
import { unitNow } from '../unitNow.ts';
import { openDrawer } from './openDrawer.ts';
import { saveBundle } from './saveBundle.ts';
import { savePicture } from './savePicture.ts';
import { savePlan } from './savePlan.ts';
import type { Workshop } from './Workshop.ts';

/** Commands that put the pencil on the rubber. */
const PENCIL_COMMANDS: ReadonlySet<Command['do']> = new Set<Command['do']>([
  'draw-start',
  'draw-cap',
  'split-piece',
  'edit-lines',
  'avoid-start',
  'paint-take',
  'measure-start',
]);

/** Commands that take hold of the mould, its board or a plane. */
const STAND_COMMANDS: ReadonlySet<Command['do']> = new Set<Command['do']>([
  'stand-start',
  'cut-start',
  'cut-move',
]);

/** What commands are carried out on: the workshop, and the few things that only the sheet itself can do. */
export interface CommandGround {
  readonly workshop: Workshop;
  /** Null at the bench, where no figure is drawn. */
  readonly figure: MouldFigure | null;
  pickFile(): void;
  printSheet(): Promise<void>;
  slidePiece(piece: number, mm: number): void;
}

/** Does what an element asked for that is no change of plan or looks. Returns at once; what takes time reports by itself. */
export function carryOut(command: Command, ground: CommandGround): void {
  const { workshop, figure } = ground;
  const { store, drafter, stander } = workshop;
  // What is only looked at makes room for what is drawn or marked.
  if (PENCIL_COMMANDS.has(command.do)) workshop.finder.hold(null);
  // One thing in the hand at a time.
  if (PENCIL_COMMANDS.has(command.do) || command.do === 'paint-take') stander.rest();
  if (STAND_COMMANDS.has(command.do)) {
    drafter.rest();
    workshop.painter.rest();
  }
  switch (command.do) {
    case 'pick-file':
      ground.pickFile();
      break;
    case 'open-file':
      void workshop.openFile(command.file);
      break;
    case 'open-demo':
      void workshop.openDemo();
      break;
    case 'save-plan':
      savePlan(workshop);
      break;
    case 'save-bundle':
      void saveBundle(workshop);
      break;
    case 'open-drawer':
      void openDrawer(workshop);
      break;
    case 'close-drawer':
      workshop.drawer.close();
      break;
    case 'open-kept':
      workshop.drawer.close();
      void workshop.openKept(command.id);
      break;
    case 'open-unkept':
      workshop.drawer.close();
      void workshop.openUnkept(command.index);
      break;
    case 'rename-kept':
      void workshop.drawer.rename(command.id, command.name);
      break;
    case 'copy-kept':
      void workshop.drawer.copy(command.id);
      break;
    case 'bin-kept':
      void workshop.binKept(command.id);
      break;
    case 'put-back':
      void workshop.drawer.putBack(command.id);
      break;
    case 'erase-kept':
      void workshop.drawer.erase(command.id);
      break;
    case 'save-kept':
      void saveBundle(workshop, command.id);
      break;
    case 'persist-store':
      void workshop.drawer.askPersistence();
      break;
    case 'take-other':
      void workshop.takeOther();
      break;
    case 'keep-copy':
      void workshop.keepAsCopy();
      break;
    case 'keep-again':
      void workshop.keepAgain();
      break;
    case 'print':
      void ground.printSheet();
      break;
    case 'save-picture':
      if (figure) void savePicture(workshop, figure);
      break;
    case 'cancel':
      workshop.runner.cancel();
      break;
    case 'plan-again':
      workshop.planAgain();
      break;
    case 'undo':
      workshop.undo();
      break;
    case 'redo':
      workshop.redo();
      break;
    case 'gesture-end':
      store.endGesture();
      break;
    case 'draw-start':
      drafter.startDrawing();
      break;
    case 'draw-close':
      drafter.setClosed(command.closed);
      break;
    case 'draw-back':
      drafter.stepBack();
      break;
    case 'draw-finish':
      drafter.finish();
      break;
    case 'draw-cancel':
    case 'measure-cancel':
      drafter.rest();
      break;
    case 'draw-cap':
      drafter.startCap();
      break;
    case 'draw-snap':
      drafter.setSnap(command.to, command.on);
      break;
    case 'split-piece':
      drafter.startSplitting(command.piece);
      break;
    case 'smooth-line':
      drafter.smoothLine(command.line);
      break;
    case 'edit-lines':
      drafter.startEditing();
      break;
    case 'select-line':
      drafter.select(command.line, command.point);
      break;
    case 'delete-point':
      drafter.deleteSelected();
      break;
    case 'paint-take':
      drafter.rest();
      workshop.painter.take(command.does, command.area);
      break;
    case 'paint-stroke':
      workshop.painter.strokeTo(command.point);
      break;
    case 'paint-lift':
      workshop.painter.lift(command.isWanted);
      break;
    case 'paint-radius':
      workshop.painter.setRadius(command.radiusMm);
      break;
    case 'paint-rest':
      workshop.painter.rest();
      break;
    case 'stand-start':
      stander.start(command.mode);
      break;
    case 'stand-turn':
      stander.turnBy(command.axis, command.angleRad);
      break;
    case 'stand-release':
      stander.release(command.isByHand);
      break;
    case 'stand-on':
      stander.standOn(command.normal, command.middleMm);
      break;
    case 'stand-board':
      stander.setBoard(command.mm, command.isDone);
      break;
    case 'stand-slide':
      stander.slide(command.mm, command.isDone);
      break;
    case 'stand-rest':
      stander.rest();
      break;
    case 'cut-start':
      stander.startCut(command.kind);
      break;
    case 'cut-move':
      stander.moveCut(command.index);
      break;
    case 'cut-set':
      stander.setCut(command.cut);
      break;
    case 'cut-take':
      stander.takeCut();
      break;
    case 'measure-start':
      drafter.startMeasuring();
      break;
    case 'measure-take': {
      const measured = drafter.measuredMm;
      drafter.rest();
      const unit = unitNow(store.state.answer);
      if (measured !== null) store.edit(setTrueLength(measured, command.trueMm, unit));
      break;
    }
    case 'avoid-start':
      drafter.startAvoiding();
      break;
    case 'suggest-count':
      workshop.finder.setCount(command.count);
      break;
    case 'suggest-start':
      void workshop.finder.start();
      break;
    case 'suggest-stop':
      workshop.finder.stop();
      break;
    case 'suggest-show':
      workshop.finder.show(command.index);
      break;
    case 'suggest-hold':
      workshop.finder.hold(command.index);
      break;
    case 'suggest-take':
      workshop.finder.take(command.index);
      break;
    case 'chart-of':
      workshop.charter.choose(command.of);
      break;
    case 'fly-to':
      figure?.flyTo(command.atMm);
      break;
    case 'slide-piece':
      ground.slidePiece(command.piece, command.mm);
      break;
    case 'keep-material':
      void workshop.keeper.keepMaterial(command.system);
      break;
    case 'drop-material':
      void workshop.keeper.dropMaterial(command.id);
      break;
    case 'remember-job':
      void workshop.keeper.rememberJob();
      break;
    case 'forget-job':
      void workshop.keeper.forgetJob(command.key);
      break;
    case 'save-aside': {
      const { name, text } = workshop.keeper.asideFile();
      saveBlob(name, new Blob([text], { type: 'application/json' }));
      break;
    }
    case 'dismiss':
      store.dismiss(command.topic);
      break;
  }
}
