import { keepVaultOpen } from './openVault.ts';
import { createPlanVault, type PlanVault } from './PlanVault.ts';
import { createShopVault, type ShopVault } from './ShopVault.ts';
import { createTabChannel, type TabChannel } from './TabChannel.ts';

/** What an earlier visit left, beside the plans themselves. */
export interface StoredSession {
  /** How the page was looked at: unchecked JSON, whoever reads it validates. */
  readonly prefs: unknown;
  /** Id of the kept plan that was open last, in whichever tab; null when none was. */
  readonly openId: string | null;
}

/** The browser's own store, behind few calls. Every one may reject: blocked, private window, full. */
export interface SessionVault {
  load(): Promise<StoredSession>;
  save(part: Partial<StoredSession>): Promise<void>;
  readonly plans: PlanVault;
  /** What belongs to the shop and outlasts the job; left out where nothing of it is kept. */
  readonly shop?: ShopVault;
  /** To the page's other tabs; null or left out where there are none to be heard. */
  readonly tabs?: TabChannel | null;
}

/** A vault over IndexedDB. The database is opened at the first call and kept open. `digest` as `createPlanVault` takes it. */
export function createIndexedDbVault(digest: (bytes: Blob) => Promise<string | null>): SessionVault {
  const open = keepVaultOpen();
  return {
    async load() {
      const tx = (await open()).transaction('prefs', 'readonly');
      const [prefs, openId] = await Promise.all([tx.store.get('current'), tx.store.get('open'), tx.done]);
      return { prefs: prefs ?? null, openId: typeof openId === 'string' ? openId : null };
    },
    async save({ prefs, openId }) {
      const tx = (await open()).transaction('prefs', 'readwrite');
      await Promise.all([
        ...(prefs === undefined ? [] : [tx.store.put(prefs, 'current')]),
        ...(openId === undefined ? [] : [tx.store.put(openId, 'open')]),
        tx.done,
      ]);
    },
    plans: createPlanVault(open, digest),
    shop: createShopVault(open),
    tabs: createTabChannel(),
  };
}
