import type { PlanDocument } from '../../core/plan/PlanDocument.ts';
import type { BundleParts, Planner } from '../../jobs/protocol.ts';
import { Autosave, type JobOrigin } from '../../session/Autosave.ts';
import type { KeptPlan } from '../../session/KeptPlan.ts';
import { checkPlan, fileStem, readPlanFile, startPlan, writePlanFile } from '../../session/planFile.ts';
import { SessionStore } from '../../session/SessionStore.ts';
import type { SessionVault, StoredSession } from '../../session/SessionVault.ts';
import { readTabPlan } from '../../session/tabPlan.ts';
import { readViewPrefs } from '../../session/ViewPrefs.ts';
import { DrawerKeeper } from './DrawerKeeper.ts';
import { failureOf, isAbort } from './failureOf.ts';
import { LineDrafter } from './LineDrafter.ts';
import { MapDrawer } from './MapDrawer.ts';
import { Painter } from './Painter.ts';
import { PlanRunner } from './PlanRunner.ts';
import { PullCharter } from './PullCharter.ts';
import { SectionCutter } from './SectionCutter.ts';
import { ShopKeeper } from './ShopKeeper.ts';
import { SideDrawer } from './SideDrawer.ts';
import { Stander } from './Stander.ts';
import { SuggestionFinder } from './SuggestionFinder.ts';

/** A scan of our own that the page opens at the first start, with its plan. */
export interface Demo {
  readonly name: string;
  readonly fetchBytes: () => Promise<ArrayBuffer>;
  /** Unchecked JSON of its plan, or null: a plan is then made as for any scan. */
  readonly plan: unknown;
}

/** A job of the user's own, from outside. */
const OWN_JOB: JobOrigin = { kept: null, isKeptAtOnce: true };
/** A job that is kept only once it is changed. */
const SHOWN_JOB: JobOrigin = { kept: null, isKeptAtOnce: false };

/** Larger plan files than this are no plans, bytes; one with two thousand points a line stays far below. */
const PLAN_FILE_LIMIT = 20_000_000;

/** What goes into a file, and what that is called. */
interface BundleJob {
  readonly stem: string;
  readonly parts: BundleParts;
}

/** Everything the page does that takes time, in one place: open, plan, draw, cut, keep. Elements only ask. */
export class Workshop {
  readonly store: SessionStore;
  readonly runner: PlanRunner;
  readonly drafter: LineDrafter;
  readonly painter: Painter;
  readonly stander: Stander;
  readonly cutter: SectionCutter;
  readonly maps: MapDrawer;
  readonly finder: SuggestionFinder;
  readonly charter: PullCharter;
  readonly sides: SideDrawer;
  readonly keeper: ShopKeeper;
  readonly drawer: DrawerKeeper;
  private readonly autosave: Autosave;
  private readonly stopHearing: () => void;
  private openCount = 0;
  /** Files that the user has opened, and kept plans that were asked for: the newest wish is the one that counts. */
  private fileCount = 0;
  private keptCount = 0;
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
    this.painter = new Painter(this.store, changed);
    this.stander = new Stander(this.store, changed);
    this.cutter = new SectionCutter(this.store, planner, changed);
    this.maps = new MapDrawer(this.store, planner, changed);
    this.finder = new SuggestionFinder(this.store, planner, changed);
    this.charter = new PullCharter(this.store, planner, changed);
    this.sides = new SideDrawer(this.store, planner, changed);
    this.keeper = new ShopKeeper(this.store, vault.shop, changed);
    this.autosave = new Autosave(this.store, vault);
    this.drawer = new DrawerKeeper(this.store, vault, this.autosave, changed);
    this.stopHearing =
      vault.tabs?.listen(({ kind }) => {
        if (kind === 'prefs') void this.takeTimers();
      }) ?? (() => {});
    this.store.subscribe((state) => {
      if (state.answer !== this.lastAnswer) {
        this.lastAnswer = state.answer;
        this.drafter.settle();
      }
      this.tell();
    });
  }

  /** A word for what is in the hand over the figure; null: nothing. */
  get inHand(): string | null {
    const { mode } = this.stander.state;
    if (mode !== 'rest') return mode;
    const { drafter, painter } = this;
    return drafter.state.mode === 'look' ? painter.state.does : drafter.state.mode;
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
    const stored = await this.loadStored();
    if (stored) {
      const { scan, prefs } = this.store.state;
      const kept = readViewPrefs(stored.prefs);
      // A scan that was dropped meanwhile stands at its own stage already.
      this.store.setPrefs(scan === null ? kept : { ...kept, stage: prefs.stage, isAtBench: prefs.isAtBench });
      this.autosave.knowPrefs();
      // A store that does not open has been told of once already.
      await this.keeper.start();
    }
    // This tab's own plan first: another tab may have opened another one since.
    for (const id of new Set([readTabPlan(), stored?.openId ?? null])) {
      if (this.fileCount > 0) return;
      if (stored && id !== null && (await this.openKept(id, 'at-start'))) {
        void this.drawer.emptyBin();
        return;
      }
    }
    if (this.fileCount > 0) return;
    await this.openDemo();
    if (stored) void this.drawer.emptyBin();
  }

  /** Opens what was picked or dropped: a plan file by its JSON, anything else as a scan. */
  async openFile(file: File): Promise<void> {
    if (/\.json$/i.test(file.name)) await this.openPlanFile(file);
    else if (/\.scute$/i.test(file.name)) await this.openBundle(file);
    else {
      const bytes = await this.readFile(file);
      // A plan that was opened ahead of its scan, or a new scan under the old name, keeps the plan.
      const { plan } = this.store.state;
      if (!bytes) return;
      this.fileCount++;
      const isNew = plan.scan.file !== file.name;
      const isOpen = await this.openScan(file.name, bytes, isNew ? null : plan);
      // What the last job stood at says nothing of this one: its work begins with the scan.
      if (isOpen && isNew) this.store.setPrefs({ stage: 'scan', isAtBench: false });
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
      await this.openScan(name, bytes, plan === null ? null : checkPlan(plan), SHOWN_JOB);
    } catch (error) {
      this.store.notify('open', 'problem', `The demo could not be opened. ${failureOf(error).message}`);
    }
  }

  /**
   * Opens a kept plan with its scan; false when it did not come to that. One that cannot be read stays as it is: from the
   * drawer it is then not opened; at the start its scan is, with a plan of its own.
   */
  async openKept(id: string, when: 'at-start' | 'from-drawer' = 'from-drawer'): Promise<boolean> {
    const turn = ++this.keptCount;
    const fileTurn = this.fileCount;
    // What waits to be written may be this very plan's.
    await this.autosave.flush();
    const found = await this.readKept(id);
    if (turn !== this.keptCount || fileTurn !== this.fileCount) return false;
    if (found === null) {
      if (when === 'from-drawer')
        this.store.notify(
          'open',
          'problem',
          'That plan is no longer kept, or its scan is not. Nothing was changed.',
        );
      return false;
    }
    const { kept, bytes } = found;
    const origin: JobOrigin = { kept, isKeptAtOnce: true };
    let plan: PlanDocument;
    try {
      // Versions 1 and 2 of the store could hold a scan ahead of its plan.
      plan = kept.plan === null ? startPlan(kept.scanName) : checkPlan(kept.plan);
    } catch (error) {
      const why = `${failureOf(error).message} It is left as it is; under Plans it can be saved to a file.`;
      if (when === 'from-drawer') {
        this.store.notify('open', 'problem', `“${kept.name}” was not opened. ${why}`);
        return false;
      }
      const isOpen = await this.openScan(kept.scanName, bytes, null, SHOWN_JOB);
      this.store.notify(
        'restore',
        'problem',
        `“${kept.name}”, kept from your last visit, could not be used. ${why}${isOpen ? ' A fresh plan stands on its scan.' : ''}`,
      );
      return isOpen;
    }
    return this.openScan(kept.scanName, bytes, plan, origin);
  }

  /** Shows what another tab wrote in place of what stands here; what was kept beside it goes into the bin. */
  async takeOther(): Promise<void> {
    const { otherId, openId } = this.autosave;
    if (otherId === null) return;
    if ((await this.openKept(otherId)) && openId !== null && openId !== otherId)
      await this.drawer.bin(openId);
  }

  /** Opens a job that the browser has not kept and that was left for another. */
  async openUnkept(index: number): Promise<void> {
    const job = this.autosave.unkept[index];
    if (!job) return;
    // It waits again as soon as it stands there.
    if (await this.openScan(job.scan.name, job.scan.bytes, job.plan, OWN_JOB))
      this.autosave.forgetUnkept(job);
  }

  /** Throws a kept plan away, to be put back if wanted; when it is the open one, another takes its place. */
  async binKept(id: string): Promise<void> {
    const isOpen = id === this.autosave.openId;
    if (isOpen) await this.autosave.flush();
    if (!(await this.drawer.bin(id)) || !isOpen) return;
    const next = this.drawer.newestOther(id);
    if (next === null || !(await this.openKept(next))) await this.openDemo();
  }

  /** Plan and scan in one file, of the open job or of a kept one; null when there is none, which has then been said. */
  async bundle(
    id: string | null = null,
  ): Promise<{ readonly name: string; readonly bytes: ArrayBuffer } | null> {
    try {
      const job = id === null ? this.presentJob() : await this.keptJob(id);
      if (job === null) return null;
      const bytes = await this.planner.bundle(job.parts);
      return { name: `${job.stem}.scute`, bytes };
    } catch (error) {
      if (!isAbort(error))
        this.store.notify('save', 'problem', `The plan was not saved to a file. ${failureOf(error).message}`);
      return null;
    }
  }

  /** Tries once more what the browser did not keep. */
  async keepAgain(): Promise<void> {
    await this.autosave.retry();
  }

  async keepAsCopy(): Promise<void> {
    await this.autosave.keepAsCopy();
    this.drawer.refreshIfOpen();
  }

  /** The page is in front again: another tab may have been at work. */
  async lookAgain(): Promise<void> {
    await this.autosave.look();
  }

  /** Reads a scan; only when that succeeds does it take the place of the one that was open. False when it did not. */
  async openScan(
    name: string,
    bytes: ArrayBuffer,
    plan: PlanDocument | null,
    origin: JobOrigin = OWN_JOB,
  ): Promise<boolean> {
    const turn = ++this.openCount;
    const isCurrent = () => turn === this.openCount;
    this.runner.hold(true);
    this.store.setJob({ fraction: 0, phase: `reading ${name}` });
    try {
      const read = () =>
        this.planner.open(name, bytes, {
          progress: (fraction, phase) => {
            if (isCurrent()) this.store.setJob({ fraction, phase });
          },
        });
      // A worker that died over something else, or by itself, is no fault of the file's; once more tells.
      const opened = await read().catch((error: unknown) => {
        if (failureOf(error).kind !== 'worker-lost' || !isCurrent()) throw error;
        return read();
      });
      // Shown even when another file is already on its way: the worker holds this one now, and that one may fail.
      this.drafter.rest();
      this.store.dismiss('open');
      this.autosave.expect(origin);
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

  /** Works the plan out once more; where the worker was lost, the planner reads the scan again by itself. */
  planAgain(): void {
    this.store.askAgain();
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
    await this.autosave.flush();
  }

  dispose(): void {
    this.autosave.dispose();
    this.drawer.dispose();
    this.stopHearing();
    this.painter.dispose();
    this.stander.dispose();
    this.cutter.dispose();
    this.maps.dispose();
    this.finder.dispose();
    this.charter.dispose();
    this.sides.dispose();
    this.keeper.dispose();
    this.runner.dispose();
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

  /** A file that holds plan and scan becomes a job of its own; nothing of the open one is changed. */
  private async openBundle(file: File): Promise<void> {
    const bytes = await this.readFile(file);
    if (!bytes) return;
    try {
      const parts = await this.planner.unbundle(file.name, bytes);
      const plan = readPlanFile(parts.planText);
      this.fileCount++;
      await this.openScan(parts.scanName, parts.scanBytes, plan);
    } catch (error) {
      if (isAbort(error)) return;
      const why = error instanceof SyntaxError ? 'The plan in it is not JSON.' : failureOf(error).message;
      this.store.notify('open', 'problem', `${file.name} was not opened. ${why} Nothing was changed.`);
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
      this.autosave.sayFailed(error);
      return null;
    }
  }

  /** A kept plan that is not in the bin, and its scan; null when either is missing, or the store does not answer. */
  private async readKept(
    id: string,
  ): Promise<{ readonly kept: KeptPlan; readonly bytes: ArrayBuffer } | null> {
    try {
      const kept = await this.vault.plans.read(id);
      const bytes = kept && kept.binnedAt === null ? await this.vault.plans.readScan(kept.scanKey) : null;
      return kept && bytes ? { kept, bytes } : null;
    } catch (error) {
      this.autosave.sayFailed(error);
      return null;
    }
  }

  private presentJob(): BundleJob | null {
    const { scan, plan } = this.store.state;
    if (scan === null) return null;
    const { text } = writePlanFile(plan);
    const parts = { planText: text, scanName: scan.name, scanBytes: scan.bytes, picture: null };
    return { stem: fileStem(plan), parts };
  }

  private async keptJob(id: string): Promise<BundleJob | null> {
    await this.autosave.flush();
    const kept = await this.vault.plans.read(id);
    const scanBytes = kept && (await this.vault.plans.readScan(kept.scanKey));
    if (!kept || !scanBytes) throw new Error('It is no longer kept.');
    const picture = await this.vault.plans.readPicture(id);
    return {
      stem: fileStem({ job: { name: kept.name, shop: '' } }),
      parts: {
        // As it lies there: one of a later version goes into the file unread.
        planText: `${JSON.stringify(kept.plan, null, 2)}\n`,
        scanName: kept.scanName,
        scanBytes,
        picture: picture && (await picture.arrayBuffer()),
      },
    };
  }

  /** Timers belong to the shop's clock: one that another tab started must not be overwritten by this one. */
  private async takeTimers(): Promise<void> {
    try {
      const { timers } = readViewPrefs((await this.vault.load()).prefs);
      const { prefs } = this.store.state;
      if (JSON.stringify(timers) !== JSON.stringify(prefs.timers)) this.store.setPrefs({ timers });
    } catch {
      // A store that does not answer is told of when something is to be written.
    }
  }

  private tell(): void {
    for (const listener of [...this.listeners]) listener();
  }
}
