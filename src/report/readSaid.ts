import { type MaybeSaid, usKey } from '../core/sayBoth.ts';
import type { UnitSystem } from '../core/units.ts';

/** The sentence of the answer under `key`, in the units of `system` where it has been said in both. */
export function readSaid<K extends string>(of: MaybeSaid<K>, key: K, system: UnitSystem): string {
  const twins: Partial<Readonly<Record<string, string>>> = of;
  return (system === 'us' ? twins[usKey(key)] : undefined) ?? of[key];
}
