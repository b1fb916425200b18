import type { MaterialLot, MaterialSystem } from '../core/material/MaterialSystem.ts';
import { parseMaterial } from '../core/material/parseMaterial.ts';
import { serialiseMaterial } from '../core/material/serialiseMaterial.ts';
import { type FinishedJob, keyOfJob, readJob } from './FinishedJob.ts';
import type { AsideEntry, ShopShelf } from './openVault.ts';
import type { KeptValue, ShopVault } from './ShopVault.ts';

/**
 * What this shop keeps from job to job: its own systems and what finished jobs taught. Plans hold their systems whole, so
 * that nothing here changes a plan. Every call may reject with the browser's own DOMException; the memory then shows what
 * is kept and no more.
 */
export class ShopMemory {
  private byId: ReadonlyMap<string, MaterialSystem> = new Map();
  private byKey: ReadonlyMap<string, FinishedJob> = new Map();
  private aside: readonly AsideEntry[] = [];

  constructor(
    private readonly vault: ShopVault,
    private readonly now: () => Date = () => new Date(),
  ) {}

  /** Reads what is kept. What cannot be read is put aside; of that, a sentence each comes back. */
  async load(): Promise<string[]> {
    const said: string[] = [];
    const [materials, jobs] = await Promise.all([this.vault.list('materials'), this.vault.list('shop')]);
    const byId = new Map<string, MaterialSystem>();
    for (const kept of materials) {
      const system = readMaterial(kept.value);
      if (typeof system !== 'string') byId.set(system.id, system);
      else said.push(await this.putAside('materials', kept, system));
    }
    const byKey = new Map<string, FinishedJob>();
    for (const kept of jobs) {
      const job = readJob(kept.value);
      if (typeof job !== 'string') byKey.set(kept.key, job);
      else said.push(await this.putAside('shop', kept, job));
    }
    this.byId = byId;
    this.byKey = byKey;
    this.aside = await this.vault.listAside();
    return said;
  }

  /** The user's own systems, by name. */
  listMaterials(): MaterialSystem[] {
    return [...this.byId.values()].sort((a, b) => a.name.localeCompare(b.name));
  }

  /** Keeps a system under its id, in place of an earlier one. Throws PlanError 'bad-material' rather than keep what could not be read again. */
  async keepMaterial(system: MaterialSystem): Promise<void> {
    const file: unknown = JSON.parse(serialiseMaterial(system));
    const checked = parseMaterial(file);
    await this.vault.put('materials', checked.id, file);
    this.byId = new Map(this.byId).set(checked.id, checked);
  }

  async dropMaterial(id: string): Promise<void> {
    await this.vault.drop('materials', id);
    const byId = new Map(this.byId);
    byId.delete(id);
    this.byId = byId;
  }

  /** What finished jobs taught, newest first. */
  listJobs(): FinishedJob[] {
    return [...this.byKey.values()].sort((a, b) => (keyOfJob(a) < keyOfJob(b) ? 1 : -1));
  }

  /** Keeps what a job taught; the same job once more takes the place of what it taught before. */
  async rememberJob(job: FinishedJob): Promise<void> {
    const key = keyOfJob(job);
    await this.vault.put('shop', key, job);
    this.byKey = new Map(this.byKey).set(key, job);
  }

  async forgetJob(key: string): Promise<void> {
    await this.vault.drop('shop', key);
    const byKey = new Map(this.byKey);
    byKey.delete(key);
    this.byKey = byKey;
  }

  /** Measured lots of a system, from all jobs; of one lot the newest job's values. */
  listLots(systemId: string): MaterialLot[] {
    const lots = new Map<string, MaterialLot>();
    for (const job of this.listJobs()) {
      for (const one of job.lots) {
        if (one.systemId === systemId && !lots.has(one.lot.lot)) lots.set(one.lot.lot, one.lot);
      }
    }
    return [...lots.values()];
  }

  /** What could not be read, as it was. */
  listAside(): readonly AsideEntry[] {
    return this.aside;
  }

  private async putAside(from: ShopShelf, { key, value }: KeptValue, why: string): Promise<string> {
    await this.vault.setAside({ from, key, why, at: this.now().toISOString(), value });
    const what = from === 'materials' ? 'The material' : 'What was learned from';
    return `${what} “${key}” could not be read and was put aside, not thrown away. ${why}`;
  }
}

/** A kept system, or in words why it cannot be read. */
function readMaterial(stored: unknown): MaterialSystem | string {
  try {
    return parseMaterial(stored);
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
