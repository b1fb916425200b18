import type { Basis, MaterialSystem } from './MaterialSystem.ts';

/** A lot's values are never anything else. */
const MEASURED: Basis = { kind: 'yours', text: 'measured in the shop on this lot' };

/**
 * Where a value of the system comes from: the basis that stands for its path or for the nearest path above it
 * ("powder.densityGPerCm3", then "powder"). A path begins with the name of a component or additive or with a key of the
 * system; the reinforcement answers to its name and to "reinforcement". Null where nothing is said of it.
 */
export function basisOf(system: MaterialSystem, path: string): Basis | null {
  const { reinforcement, basis } = system;
  let at = path;
  if (reinforcement && (at === reinforcement.name || at.startsWith(`${reinforcement.name}.`))) {
    at = `reinforcement${at.slice(reinforcement.name.length)}`;
  }
  if (at === 'lots' || at.startsWith('lots.')) return MEASURED;
  while (at !== '') {
    // An own key only: a component may be named as something that every object has.
    if (Object.hasOwn(basis, at)) return basis[at];
    at = at.slice(0, Math.max(0, at.lastIndexOf('.')));
  }
  return null;
}
