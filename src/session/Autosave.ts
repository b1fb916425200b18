import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { formerJobKey, unkeptJobKey } from './benchProgress.ts';
import { copyName } from './copyName.ts';
import { explainStoreError } from './explainStoreError.ts';
import { type KeptPlan, KeptPlanMoved } from './KeptPlan.ts';
import type { LoadedScan, NoticeChoice, SessionState, SessionStore } from './SessionStore.ts';
import type { SessionVault } from './SessionVault.ts';
import { setJobName } from './scanActions.ts';
import { writeTabPlan } from './tabPlan.ts';

/** Time from a change to its write, ms: a drag does not write at every step, and closing the tab loses less than a second. */
export const AUTOSAVE_DELAY_MS = 500;

/** After a write that failed: when it is tried again by itself, ms. Space may have been made outside this page. */
export const RETRY_MS = 30_000;

/** A write that has not ended by then is told of, ms; it is not begun a second time beside itself, and may still come to its end. */
export const WRITE_PATIENCE_MS = 15_000;

/** Topic of what is said about the other tabs. */
const TABS_TOPIC = 'tabs';

/** A job of this tab, open or left, and how far it is kept. */
interface Job {
  readonly scan: LoadedScan;
  /** As it was opened: until it differs from that, a demo is not kept. */
  readonly opened: PlanDocument;
  plan: PlanDocument;
  /** The plan that lies under `kept`, by identity. */
  savedPlan: PlanDocument | null;
  kept: Pick<KeptPlan, 'id' | 'revision'> | null;
  /** It is the user's own, or was changed. */
  isWanted: boolean;
  /** Another tab has written or thrown away what lies under `kept`. */
  isBehind: boolean;
  /** The kept plan beside which this one was kept, when another tab had changed that one. */
  besideId: string | null;
}

/** Where the job that the store is about to take comes from. */
export interface JobOrigin {
  /** The kept plan that it is, as it was read; null for a new one. */
  readonly kept: Pick<KeptPlan, 'id' | 'revision'> | null;
  /** Kept as it is; otherwise from its first change on. */
  readonly isKeptAtOnce: boolean;
}

const NEW_JOB: JobOrigin = { kept: null, isKeptAtOnce: true };

/** A job that is no longer open and that the browser has not kept: it is in this tab only. */
export type UnkeptJob = Pick<Job, 'scan' | 'plan'>;

/**
 * Keeps the vault in step with the store. A write that fails is said once, and tried again at the next change, after a while,
 * and when asked; the session in memory is untouched by it, and a job that was left meanwhile is held until it is kept.
 * What another tab has written is never overwritten: this tab's changes are then kept beside it.
 */
export class Autosave {
  private timer: ReturnType<typeof setTimeout> | null = null;
  private retryTimer: ReturnType<typeof setTimeout> | null = null;
  private job: Job | null = null;
  private left: Job[] = [];
  private origin: JobOrigin = NEW_JOB;
  private savedPrefs: unknown;
  /** What the latest write tried to keep: a write that failed is not tried again at every notice. */
  private tried: readonly unknown[] = [];
  /** What was said last of a failing store; it is not said again when it was put away. */
  private said: string | null = null;
  private writing: Promise<void> = Promise.resolve();
  private isDisposed = false;
  private readonly stops: (() => void)[] = [];

  constructor(
    private readonly store: SessionStore,
    private readonly vault: SessionVault,
    private readonly delayMs = AUTOSAVE_DELAY_MS,
  ) {
    this.savedPrefs = store.state.prefs;
    this.follow(store.state);
    this.stops.push(store.subscribe((state) => this.follow(state)));
    const stop = vault.tabs?.listen((message) => {
      if (message.kind === 'saved') this.hear(message.id, message.revision);
      else if (message.kind === 'gone') this.hear(message.id, 'gone');
      else if (message.kind === 'list' && this.said !== null) void this.retry();
    });
    if (stop) this.stops.push(stop);
  }

  /** Id of the kept plan that is open, or null while it is not kept. */
  get openId(): string | null {
    return this.job?.kept?.id ?? null;
  }

  /** Where the other tab's plan lies, when this one has to choose. */
  get otherId(): string | null {
    return this.job?.besideId ?? (this.job?.isBehind ? this.openId : null);
  }

  /** Jobs that are only in this tab, beside the one that is open. */
  get unkept(): readonly UnkeptJob[] {
    return this.left;
  }

  /** Says where the job comes from that the store takes next; unsaid, it is a new one and kept at once. */
  expect(origin: JobOrigin): void {
    this.origin = origin;
  }

  /** Takes prefs as kept, when they were just read. */
  knowPrefs(): void {
    this.savedPrefs = this.store.state.prefs;
  }

  /** Lets go of a job that is opened again, or no longer wanted. */
  forgetUnkept(job: UnkeptJob): void {
    this.left = this.left.filter((one) => one !== job);
  }

  /** Writes what is waiting now; resolves when it is kept or has been reported as not kept. */
  async flush(): Promise<void> {
    this.stopTimers();
    this.writing = this.writing.then(() => this.write());
    await this.patient(this.writing);
  }

  /** Tries once more what could not be kept. */
  retry(): Promise<void> {
    this.tried = [];
    return this.flush();
  }

  /** Looks whether what is kept is still what this tab wrote, as when it comes back to the front. */
  async look(): Promise<void> {
    const { job } = this;
    if (!job?.kept) return;
    const { id } = job.kept;
    try {
      const kept = await this.vault.plans.read(id);
      this.hear(id, kept === null || kept.binnedAt !== null ? 'gone' : kept.revision);
    } catch {
      // A store that does not answer is told of when something is to be written.
    }
  }

  /** The plan that was thrown away is back: it goes on where it was. */
  heedPutBack(id: string): void {
    if (this.job?.kept?.id !== id) return;
    this.job.isBehind = false;
    this.store.dismiss(TABS_TOPIC);
  }

  /** Keeps what stands here as a plan of its own, beside the one that another tab wrote. */
  async keepAsCopy(): Promise<void> {
    const { job } = this;
    if (!job) return;
    this.writing = this.writing.then(() =>
      this.keepBeside(job, 'changed').then(
        () => this.store.dismiss(TABS_TOPIC),
        (error: unknown) => this.sayFailed(error),
      ),
    );
    await this.writing;
  }

  dispose(): void {
    this.isDisposed = true;
    this.stopTimers();
    for (const stop of this.stops) stop();
  }

  /** Waits for a write as long as is right, then says that the store does not answer. */
  private patient(writing: Promise<void>): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(() => {
        if (!this.isDisposed) this.sayFailed(new DOMException('A write does not end.', 'StoreSilent'));
        resolve();
      }, WRITE_PATIENCE_MS);
      void writing.then(() => {
        clearTimeout(timer);
        resolve();
      });
    });
  }

  private stopTimers(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    if (this.retryTimer !== null) clearTimeout(this.retryTimer);
    this.timer = null;
    this.retryTimer = null;
  }

  private follow(state: SessionState): void {
    const { scan, plan, prefs } = state;
    if (scan === null) return;
    if (this.job?.scan !== scan) this.begin(scan, plan);
    const { job } = this;
    if (!job) return;
    job.plan = plan;
    if (plan !== job.opened) job.isWanted = true;
    this.showKeeping();
    const isWaiting = needsWrite(job) || this.left.length > 0 || prefs !== this.savedPrefs;
    const isTried = this.tried[0] === job.scan && this.tried[1] === plan && this.tried[2] === prefs;
    if (!isWaiting || isTried || this.timer !== null || this.isDisposed) return;
    this.timer = setTimeout(() => void this.flush(), this.delayMs);
  }

  private begin(scan: LoadedScan, plan: PlanDocument): void {
    const { job, origin } = this;
    this.origin = NEW_JOB;
    if (job && needsWrite(job)) this.left.push(job);
    this.take(scan, plan, origin);
  }

  private take(scan: LoadedScan, plan: PlanDocument, origin: JobOrigin): void {
    this.job = {
      scan,
      opened: plan,
      plan,
      savedPlan: origin.kept ? plan : null,
      kept: origin.kept,
      isWanted: origin.isKeptAtOnce,
      isBehind: false,
      besideId: null,
    };
    writeTabPlan(origin.kept?.id ?? null);
    this.store.dismiss(TABS_TOPIC);
    if (!origin.kept) return;
    this.rememberOpen(origin.kept.id);
    this.store.keyJob(origin.kept.id, formerJobKey(plan.scan.file, plan.job.name));
  }

  private async write(): Promise<void> {
    const { prefs } = this.store.state;
    this.tried = [this.job?.scan, this.job?.plan, prefs];
    const jobs = [...this.left, ...(this.job ? [this.job] : [])].filter(needsWrite);
    const arePrefsNew = prefs !== this.savedPrefs && this.job !== null;
    if (jobs.length === 0 && !arePrefsNew) return this.checkStore();
    const errors: unknown[] = [];
    for (const job of jobs) await this.keep(job).catch((error: unknown) => errors.push(error));
    this.left = this.left.filter(needsWrite);
    if (arePrefsNew) {
      await this.vault.save({ prefs }).then(
        () => {
          this.savedPrefs = prefs;
          this.vault.tabs?.post({ kind: 'prefs' });
        },
        (error: unknown) => errors.push(error),
      );
    }
    if (errors.length > 0) this.sayFailed(errors[0]);
    else this.saySaved();
  }

  /** With nothing to write: does a store that failed answer again? */
  private async checkStore(): Promise<void> {
    if (this.said === null) return;
    try {
      await this.vault.load();
      this.saySaved();
    } catch (error) {
      this.sayFailed(error);
    }
  }

  private async keep(job: Job): Promise<void> {
    if (!job.kept) return this.create(job);
    const { id, revision } = job.kept;
    const { plan } = job;
    try {
      const kept = await this.vault.plans.change(id, revision, { name: plan.job.name, plan });
      job.kept = kept;
      job.savedPlan = plan;
      this.vault.tabs?.post({ kind: 'saved', id, revision: kept.revision });
    } catch (error) {
      if (!(error instanceof KeptPlanMoved)) throw error;
      await this.keepBeside(job, error.how);
      this.sayBeside(job, error.how);
    }
  }

  private async create(job: Job): Promise<void> {
    const { scan, plan } = job;
    const { answer } = this.store.state;
    const sizeMm = (job === this.job && answer?.result.scan.sizeMm) || null;
    const before = job.kept?.id ?? null;
    const kept = await this.vault.plans.create({
      name: plan.job.name,
      scanName: scan.name,
      bytes: scan.bytes,
      plan,
      sizeMm,
    });
    job.kept = kept;
    job.savedPlan = plan;
    job.isBehind = false;
    if (job === this.job) {
      writeTabPlan(kept.id);
      this.rememberOpen(kept.id);
      // The plan that this one is kept beside goes on with its own ticks.
      this.store.keyJob(kept.id, before ?? unkeptJobKey(scan.name), before === null ? 'moved' : 'copied');
    }
    this.vault.tabs?.post({ kind: 'list' });
  }

  /** Keeps a job beside the kept plan that it comes from; under another name, unless that one is gone. */
  private async keepBeside(job: Job, how: KeptPlanMoved['how']): Promise<void> {
    const besideId = how === 'changed' ? (job.kept?.id ?? null) : null;
    if (how === 'changed') {
      const taken = (await this.vault.plans.list()).map(({ name }) => name);
      const rename = setJobName(copyName(job.plan.job.name, taken));
      if (job === this.job) this.store.edit(rename);
      else job.plan = rename(job.plan);
    }
    await this.create(job);
    job.besideId = besideId;
  }

  /** What stands under `id` after another tab was at work there. */
  private hear(id: string, now: number | 'gone'): void {
    const { job } = this;
    if (!job?.kept || job.kept.id !== id) return;
    if (now !== 'gone' && now <= job.kept.revision) return;
    // What waits to be written is kept beside the other one in a moment, and told of then.
    if (needsWrite(job) && this.said === null) return;
    job.isBehind = true;
    const name = job.plan.job.name;
    if (now === 'gone') {
      this.say(`“${name}” was deleted in another tab. It is still open here.`, [
        { text: 'Put back', command: { do: 'put-back', id } },
        KEEP_COPY,
      ]);
      return;
    }
    this.say(`“${name}” was changed in another tab. Here it stands as it was before.`, [
      TAKE_OTHER,
      KEEP_COPY,
    ]);
  }

  private sayBeside(job: Job, how: KeptPlanMoved['how']): void {
    const { name } = job.plan.job;
    if (how === 'gone') {
      this.say(`“${name}” was deleted in another tab. What you have here is kept as a plan of its own.`, []);
      return;
    }
    const choices = job === this.job ? [TAKE_OTHER] : [];
    this.say(
      `This plan was changed in another tab too. What you have here is kept beside it, as “${name}”.`,
      choices,
    );
  }

  private say(text: string, choices: readonly NoticeChoice[]): void {
    this.store.notify(TABS_TOPIC, 'problem', text, choices);
  }

  private saySaved(): void {
    this.said = null;
    this.store.dismiss('autosave');
    this.showKeeping();
  }

  /** Says once why the store does not answer or take anything, and tries again after a while. */
  sayFailed(error: unknown): void {
    const text = explainStoreError(error);
    if (text !== this.said)
      this.store.notify('autosave', 'problem', text, [
        { text: 'Save to a file', command: { do: 'save-bundle' } },
        { text: 'Try again', command: { do: 'keep-again' } },
      ]);
    this.said = text;
    this.showKeeping();
    if (this.retryTimer === null && !this.isDisposed) {
      this.retryTimer = setTimeout(() => void this.retry(), RETRY_MS);
    }
  }

  private showKeeping(): void {
    this.store.setKeeping(this.said !== null ? 'failed' : this.job?.isWanted ? 'kept' : 'untouched');
  }

  /** For the next tab; where that fails, the tab opens what was open before. */
  private rememberOpen(openId: string): void {
    this.vault.save({ openId }).catch(() => {});
  }
}

const TAKE_OTHER: NoticeChoice = { text: 'Take that one over', command: { do: 'take-other' } };
const KEEP_COPY: NoticeChoice = { text: 'Keep this one as a copy', command: { do: 'keep-copy' } };

function needsWrite(job: Job): boolean {
  return job.isWanted && (job.kept === null || job.plan !== job.savedPlan);
}
