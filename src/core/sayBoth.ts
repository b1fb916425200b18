import type { UnitSystem } from './units.ts';

/** Name of the key that holds the sentence of `K` in US units: 'text' has its twin in 'usText', 'say' in 'usSay'. */
export type UsKey<K extends string> = `us${Capitalize<K>}`;

/** A sentence that holds quantities, in metric units under `K` and in US units under its twin. */
export type Said<K extends string> = Readonly<Record<K | UsKey<K>, string>>;

/** What may be said in one way only, as it holds no quantity: its twin is then left out. */
export type MaybeSaid<K extends string> = Readonly<Record<K, string>> &
  Partial<Readonly<Record<UsKey<K>, string>>>;

/**
 * A sentence of the answer in both systems of units, to be spread into what it belongs to. The metric one keeps the key by
 * which it has always been known.
 */
export function sayBoth<K extends string>(key: K, say: (system: UnitSystem) => string): Said<K> {
  return { [key]: say('metric'), [usKey(key)]: say('us') } as Said<K>;
}

/** "usText" for "text". */
export function usKey<K extends string>(key: K): UsKey<K> {
  return `us${key[0].toUpperCase()}${key.slice(1)}` as UsKey<K>;
}
