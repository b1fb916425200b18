import type { MaterialSystem } from '../../core/material/MaterialSystem.ts';
import { type LogReport, reportLog } from '../../report/reportLog.ts';
import { type FinishedJob, finishJob, hasLessons, keyOfJob } from '../../session/FinishedJob.ts';
import type { AsideEntry } from '../../session/openVault.ts';
import { isStale, type SessionState, type SessionStore } from '../../session/SessionStore.ts';
import { ShopMemory } from '../../session/ShopMemory.ts';
import type { ShopVault } from '../../session/ShopVault.ts';
import { listOffers, type ShopOffer } from '../../session/shopOffers.ts';

/** What panels show of the shop. */
export interface ShopState {
  /** The user's own systems, by name. */
  readonly materials: readonly MaterialSystem[];
  /** What finished jobs taught, newest first. */
  readonly jobs: readonly FinishedJob[];
  /** The shop's measured values that the plan does not have yet, this job's log counted. */
  readonly offers: readonly ShopOffer[];
  /** Of the log of the job that is open, by the latest answer to it; null before the first. */
  readonly log: LogReport | null;
  /** Anything at all stands in the log of the job that is open. */
  readonly hasLog: boolean;
  /** The log has something to remember that is not remembered as it stands. */
  readonly canRemember: boolean;
  /** How many kept things could not be read and lie aside. */
  readonly asideCount: number;
}

/** Speaks of this shop's own things only; the message stands with the other notices. */
const TOPIC = 'shop';

/** Where nothing of the shop can be kept: empty, and says so at the first try. */
const NO_VAULT: ShopVault = {
  list: () => Promise.resolve([]),
  put: () => Promise.reject(new DOMException('There is no store.', 'NotSupportedError')),
  drop: () => Promise.reject(new DOMException('There is no store.', 'NotSupportedError')),
  setAside: () => Promise.reject(new DOMException('There is no store.', 'NotSupportedError')),
  listAside: () => Promise.resolve([]),
};

/**
 * What the shop keeps from job to job, for the panels: its own systems, and its own waste and pace out of the logs. Calls
 * never reject: what goes wrong is said in a notice, and the state shows only what is really kept.
 */
export class ShopKeeper {
  private readonly memory: ShopMemory;
  private current: ShopState;
  private seen: Pick<SessionState, 'plan' | 'answer'> | null = null;
  private readonly unsubscribe: () => void;

  constructor(
    private readonly store: SessionStore,
    vault: ShopVault | undefined,
    private readonly changed: () => void,
    private readonly now: () => Date = () => new Date(),
  ) {
    this.memory = new ShopMemory(vault ?? NO_VAULT, now);
    this.current = this.look(null);
    this.unsubscribe = store.subscribe((state) => this.follow(state));
  }

  get state(): ShopState {
    return this.current;
  }

  /** Reads what earlier visits kept. */
  async start(): Promise<void> {
    try {
      const aside = await this.memory.load();
      if (aside.length > 0) this.store.notify(TOPIC, 'problem', aside.join(' '));
    } catch (error) {
      this.store.notify(TOPIC, 'problem', `Your own systems and paces are not at hand. ${sayWhy(error)}`);
    }
    this.refresh();
  }

  /** Keeps a system for other jobs. False when the browser did not. */
  keepMaterial(system: MaterialSystem): Promise<boolean> {
    return this.run(`${system.name} was not kept`, 'Save it to a file instead.', () =>
      this.memory.keepMaterial(system),
    );
  }

  dropMaterial(id: string): Promise<boolean> {
    return this.run('The system is still kept', 'Try again.', () => this.memory.dropMaterial(id));
  }

  /** Keeps what the log of the open job has taught, for the next jobs. */
  async rememberJob(): Promise<boolean> {
    const job = this.presentJob();
    if (!job || !hasLessons(job)) return false;
    return this.run('What the log taught was not kept', 'Save the plan to a file: the log is in it.', () =>
      this.memory.rememberJob(job),
    );
  }

  forgetJob(key: string): Promise<boolean> {
    return this.run('The job is still remembered', 'Try again.', () => this.memory.forgetJob(key));
  }

  /** Measured lots of a system that jobs have left, newest job first. */
  listLots(systemId: string) {
    return this.memory.listLots(systemId);
  }

  /** What could not be read, as a file to look at. */
  asideFile(): { readonly name: string; readonly text: string } {
    const entries: readonly AsideEntry[] = this.memory.listAside();
    return { name: 'put-aside.json', text: `${JSON.stringify(entries, null, 2)}\n` };
  }

  dispose(): void {
    this.unsubscribe();
  }

  private follow({ plan, answer }: SessionState): void {
    if (this.seen?.plan === plan && this.seen.answer === answer) return;
    this.seen = { plan, answer };
    this.current = this.look(this.current.log);
  }

  private refresh(): void {
    this.current = this.look(this.current.log);
    this.changed();
  }

  /** `log`: what stands while the answer to the latest change is on its way. */
  private look(log: LogReport | null): ShopState {
    const { state } = this.store;
    const isFresh = state.answer !== null && !isStale(state);
    const report = isFresh && state.answer ? reportLog(state.plan, state.answer.result) : log;
    const present = report && finishJob(state.plan, report.lessons, this.today());
    const jobs = this.memory.listJobs();
    const earlier = present ? jobs.filter((job) => keyOfJob(job) !== keyOfJob(present)) : jobs;
    const isKept = jobs.some((job) => JSON.stringify(job) === JSON.stringify(present));
    return {
      materials: this.memory.listMaterials(),
      jobs,
      offers: listOffers(state.plan, present ? [present, ...earlier] : earlier),
      log: report,
      hasLog: Object.values(state.plan.log).some((list) => list.length > 0),
      canRemember: present !== null && hasLessons(present) && !isKept,
      asideCount: this.memory.listAside().length,
    };
  }

  private presentJob(): FinishedJob | null {
    const { log } = this.current;
    return log && finishJob(this.store.state.plan, log.lessons, this.today());
  }

  private today(): string {
    return this.now().toISOString().slice(0, 10);
  }

  private async run(failed: string, remedy: string, act: () => Promise<void>): Promise<boolean> {
    try {
      await act();
      this.store.dismiss(TOPIC);
      return true;
    } catch (error) {
      this.store.notify(TOPIC, 'problem', `${failed}. ${sayWhy(error)} ${remedy}`);
      return false;
    } finally {
      this.refresh();
    }
  }
}

/** Why the store or the check refused, in a sentence. */
function sayWhy(error: unknown): string {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  if (name === 'PlanError' && error instanceof Error) return error.message;
  if (name === 'QuotaExceededError') return 'The browser’s store is full.';
  if (name === 'TimeoutError') return 'Another tab holds the browser’s store; close it.';
  if (name === 'VersionError')
    return 'A newer version of this page has used the store; reload to get that one.';
  return `This browser does not let the page keep things (${name || 'unknown reason'}).`;
}
