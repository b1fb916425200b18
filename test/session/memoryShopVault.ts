import type { AsideEntry, ShopShelf } from '../../src/session/openVault.ts';
import type { ShopVault } from '../../src/session/ShopVault.ts';

/** A shop's vault in memory, whose shelves the test can look at and fill with anything; `fail` makes writes reject. */
export function memoryShopVault(fail: () => Error | null = () => null) {
  const shelves: Record<ShopShelf, Map<string, unknown>> = { materials: new Map(), shop: new Map() };
  const aside: AsideEntry[] = [];
  const write = (act: () => void): Promise<void> => {
    const error = fail();
    if (error) return Promise.reject(error);
    act();
    return Promise.resolve();
  };
  const vault: ShopVault = {
    list: (shelf) => Promise.resolve([...shelves[shelf]].map(([key, value]) => ({ key, value }))),
    put: (shelf, key, value) => write(() => shelves[shelf].set(key, structuredClone(value))),
    drop: (shelf, key) => write(() => shelves[shelf].delete(key)),
    setAside: (entry) =>
      write(() => {
        aside.push(structuredClone(entry));
        shelves[entry.from].delete(entry.key);
      }),
    listAside: () => Promise.resolve([...aside]),
  };
  return { vault, shelves, aside };
}
