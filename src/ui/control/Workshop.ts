import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import type { Planner } from '../../jobs/protocol.ts';
import { Autosave, explainStoreError } from '../../session/Autosave.ts';
import { checkPlan, readPlanFile, startPlan, writePlanFile } from '../../session/planFile.ts';
import { SessionStore } from '../../session/SessionStore.ts';
import type { SessionVault, StoredSession } from '../../session/SessionVault.ts';
import { addNotHere } from '../../session/undercutActions.ts';
import { readViewPrefs } from '../../session/ViewPrefs.ts';
import { failureOf, isAbort } from './failureOf.ts';
import { LineDrafter } from './LineDrafter.ts';
import { PlanRunner } from './PlanRunner.ts';
import { PullCharter } from './PullCharter.ts';
import { SectionCutter } from './SectionCutter.ts';
import { ShopKeeper } from './ShopKeeper.ts';
import { SideDrawer } from './SideDrawer.ts';
import { Painter } from './Painter.ts';
import { Stander } from './Stander.ts';
import { SuggestionFinder } from './SuggestionFinder.ts';

/** A scan of our own that the page opens at the first start, with its plan. */
export interface Demo {
  readonly name: string;
  readonly fetchBytes: () => Promise<ArrayBuffer>;
  /** Unchecked JSON of its plan, or null: a plan is then made as for any scan. */
  readonly plan: unknown;
}

/** Larger plan files than this are no plans, bytes; one with two thousand points a line stays far below. */
const PLAN_FILE_LIMIT = 20_000_000;

/** Everything the page does that takes time, in one place: open, plan, draw, cut, keep. Elements only ask. */
export class Workshop {
  readonly store: SessionStore;
  readonly runner: PlanRunner;
  readonly drafter: LineDrafter;
  readonly cutter: SectionCutter;
  readonly finder: SuggestionFinder;
  readonly charter: PullCharter;
  readonly sides: SideDrawer;
  readonly keeper: ShopKeeper;
  readonly painter: Painter;
  readonly stander: Stander;
  /** What the next marked spot is for: an area that the shell leaves free, or one that suggested lines avoid. */
  private markingFor: 'keep-clear' | 'not-here' = 'keep-clear';
  private autosave: Autosave | null = null;
  private openCount = 0;
  private readonly listeners = new Set<() => void>();
  private lastAnswer: unknown = null;

  constructor(
    private readonly planner: Planner,
    private readonly vault: SessionVault,
    private readonly demo: Demo | null,
    store?: SessionStore,
  ) {
    this.store = store ?? new SessionStore(startPlan('no scan'));
    const changed = () => this.tell();
    this.runner = new PlanRunner(this.store, planner);
    this.drafter = new LineDrafter(this.store, planner, changed);
    this.cutter = new SectionCutter(this.store, planner, changed);
    this.finder = new SuggestionFinder(this.store, planner, changed);
    this.charter = new PullCharter(this.store, planner, changed);
    this.sides = new SideDrawer(this.store, planner, changed);
    this.keeper = new ShopKeeper(this.store, vault.shop, changed);
    this.painter = new Painter(this.store, changed);
    this.stander = new Stander(this.store, changed);
    this.store.subscribe((state) => {
      if (state.answer !== this.lastAnswer) {
        this.lastAnswer = state.answer;
        this.drafter.settle();
      }
      this.tell();
    });
  }

  /** Calls `listener` after every change of anything shown. Returns the way to stop it. */
  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /**
   * Brings back what an earlier visit left, or opens the demo; a file that is dropped meanwhile goes before both. Never
   * rejects: what goes wrong is said in a notice.
   */
  async start(): Promise<void> {
    // From the first moment on, so that a file dropped before the store has answered is kept too.
    this.autosave = new Autosave(this.store, this.vault);
    const stored = await this.loadStored();
    if (stored) {
      this.store.setPrefs(readViewPrefs(stored.prefs));
      // A store that does not open has been told of once already.
      await this.keeper.start();
    }
    if (this.openCount > 0) return;
    if (stored?.scan) {
      const plan = this.checkStoredPlan(stored.plan, stored.scan.name);
      if (await this.openScan(stored.scan.name, stored.scan.bytes, plan)) {
        // What was just read back counts as kept already.
        this.autosave.dispose();
        this.autosave = new Autosave(this.store, this.vault);
        return;
      }
      if (this.openCount > 1) return;
    }
    await this.openDemo();
  }

  /** Opens what was picked or dropped: a plan file by its JSON, anything else as a scan. */
  async openFile(file: File): Promise<void> {
    if (/\.json$/i.test(file.name)) await this.openPlanFile(file);
    else {
      const bytes = await this.readFile(file);
      // A plan that was opened ahead of its scan, or a new scan under the old name, keeps the plan.
      const { plan } = this.store.state;
      if (bytes) await this.openScan(file.name, bytes, plan.scan.file === file.name ? plan : null);
    }
  }

  async openDemo(): Promise<void> {
    if (!this.demo) return;
    const { name, plan } = this.demo;
    const turn = this.openCount;
    try {
      const bytes = await this.demo.fetchBytes();
      // Whatever was opened while the demo was on its way is what the user wants to see.
      if (turn !== this.openCount) return;
      await this.openScan(name, bytes, plan === null ? null : checkPlan(plan));
    } catch (error) {
      this.store.notify('open', 'problem', `The demo could not be opened. ${failureOf(error).message}`);
    }
  }

  /** Reads a scan; only when that succeeds does it take the place of the one that was open. False when it did not. */
  async openScan(name: string, bytes: ArrayBuffer, plan: PlanDocument | null): Promise<boolean> {
    const turn = ++this.openCount;
    const isCurrent = () => turn === this.openCount;
    this.runner.hold(true);
    this.store.setJob({ fraction: 0, phase: `reading ${name}` });
    try {
      const opened = await this.planner.open(name, bytes, {
        progress: (fraction, phase) => {
          if (isCurrent()) this.store.setJob({ fraction, phase });
        },
      });
      // Shown even when another file is already on its way: the worker holds this one now, and that one may fail.
      this.drafter.rest();
      this.store.dismiss('open');
      this.store.openJob({ name, bytes, opened }, plan ?? startPlan(name, this.shopName()));
      return true;
    } catch (error) {
      if (isCurrent() && !isAbort(error)) {
        const kept = this.store.state.scan ? ` ${this.store.state.scan.name} stays open.` : '';
        this.store.notify('open', 'problem', `${name} was not opened. ${failureOf(error).message}${kept}`);
      }
      return false;
    } finally {
      if (isCurrent()) {
        this.store.setJob(null);
        this.runner.hold(false);
      }
    }
  }

  /** The shop's name goes along from job to job, but for the demo's, which is invented. */
  private shopName(): string {
    const { shop } = this.store.state.plan.job;
    const invented = this.demo?.plan as { readonly job?: { readonly shop?: unknown } } | null | undefined;
    return shop === invented?.job?.shop ? '' : shop;
  }

  /** Works the plan out once more; after the worker was lost the scan is read again first. */
  async planAgain(): Promise<void> {
    const { scan, plan, failure } = this.store.state;
    if (scan && failure?.kind === 'worker-lost') await this.openScan(scan.name, scan.bytes, plan);
    else this.store.askAgain();
  }

  /** The next click on the rubber marks the middle of an area. */
  startMarking(what: 'keep-clear' | 'not-here'): void {
    this.drafter.startClearing();
    this.markingFor = what;
    this.tell();
  }

  /** True while the next click marks an area that suggested lines avoid. */
  get isMarkingNotHere(): boolean {
    return this.drafter.state.mode === 'clear' && this.markingFor === 'not-here';
  }

  /** The rubber was clicked: a mark for the plan where one is awaited, a point for the pencil else. */
  hitRubber(point: Vec3): void {
    if (!this.isMarkingNotHere) {
      this.drafter.addPoint(point);
      return;
    }
    this.drafter.rest();
    this.store.edit(addNotHere(point));
  }

  /** The plan as a file: its name and text. */
  planFile(): { readonly name: string; readonly text: string } {
    return writePlanFile(this.store.state.plan);
  }

  /** Undo means the last point while a line is being drawn, and the last change of the plan otherwise. */
  undo(): void {
    if (!this.drafter.stepBack()) this.store.undo();
  }

  redo(): void {
    this.store.redo();
  }

  /** Keeps what waits to be kept, as when the page is about to go. */
  async flush(): Promise<void> {
    await this.autosave?.flush();
  }

  dispose(): void {
    this.autosave?.dispose();
    this.cutter.dispose();
    this.finder.dispose();
    this.charter.dispose();
    this.sides.dispose();
    this.keeper.dispose();
    this.runner.dispose();
    this.painter.dispose();
    this.stander.dispose();
    this.planner.dispose();
  }

  private async openPlanFile(file: File): Promise<void> {
    if (file.size > PLAN_FILE_LIMIT) {
      this.store.notify('open', 'problem', `${file.name} is too large to be a plan; nothing was changed.`);
      return;
    }
    const bytes = await this.readFile(file);
    if (!bytes) return;
    let plan: PlanDocument;
    try {
      plan = readPlanFile(new TextDecoder().decode(bytes));
    } catch (error) {
      const why = error instanceof SyntaxError ? 'It is not JSON.' : failureOf(error).message;
      this.store.notify(
        'open',
        'problem',
        `${file.name} was not opened as a plan. ${why} Nothing was changed.`,
      );
      return;
    }
    const { scan } = this.store.state;
    this.drafter.rest();
    this.store.edit(() => plan);
    this.store.dismiss('open');
    if (scan && plan.scan.file !== scan.name) {
      this.store.notify(
        'open',
        'note',
        `This plan was made for ${plan.scan.file}. It now stands on ${scan.name}; open that scan if it is not the same thing.`,
      );
    }
  }

  private async readFile(file: File): Promise<ArrayBuffer | null> {
    try {
      return await file.arrayBuffer();
    } catch {
      this.store.notify(
        'open',
        'problem',
        `${file.name} could not be read from the disk. Is it a folder, or gone?`,
      );
      return null;
    }
  }

  private async loadStored(): Promise<StoredSession | null> {
    try {
      return await this.vault.load();
    } catch (error) {
      this.store.notify('autosave', 'problem', explainStoreError(error));
      return null;
    }
  }

  private checkStoredPlan(stored: unknown, scanName: string): PlanDocument {
    try {
      return checkPlan(stored);
    } catch (error) {
      this.store.notify(
        'restore',
        'problem',
        `The plan kept from your last visit could not be used. ${failureOf(error).message} A fresh one stands in its place.`,
      );
      return startPlan(scanName);
    }
  }

  private tell(): void {
    for (const listener of [...this.listeners]) listener();
  }
}
