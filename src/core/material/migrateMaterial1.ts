import { DEFAULT_MATERIAL, DEFAULT_RUBBER } from './builtInMaterials.ts';
import { checkMaterial1 } from './checkMaterialFile.ts';
import type { Basis, MaterialComponent, MaterialSystem, Reinforcement } from './MaterialSystem.ts';
import type { MaterialSystem1 } from './materialSchema1.ts';

const FILLED_IN: Basis = {
  kind: 'from-memory',
  text: 'not in the older file; taken as for two-part gypsum, check it against the data sheet',
};

/**
 * A system of the first format (a material file's without its `schema`, or a plan's of version 1 or 2) in the present one,
 * for building shells. What it says keeps its value and its basis. What that format could not say (times, water, additives)
 * comes from the built-in two-part gypsum where the system is that one by its id and its components' names; any other is
 * filled in with a basis that says so, and no additives.
 * Throws PlanError 'bad-material' naming the first wrong field.
 */
export function migrateMaterial1(old: unknown): MaterialSystem {
  const known = checkMaterial1(old);
  return isOldDefault(known) ? layOver(known, DEFAULT_MATERIAL) : fillIn(known);
}

/** The built-in brushable rubber with the rubber density that the old system held. Throws as `migrateMaterial1`. */
export function rubberOfMaterial1(old: unknown): MaterialSystem {
  const { rubberDensityGPerCm3, basis } = checkMaterial1(old);
  const [rubber] = DEFAULT_RUBBER.components;
  if (rubber.densityGPerCm3 === rubberDensityGPerCm3) return DEFAULT_RUBBER;
  return {
    ...DEFAULT_RUBBER,
    components: [{ ...rubber, densityGPerCm3: rubberDensityGPerCm3 }],
    basis: {
      ...DEFAULT_RUBBER.basis,
      [`${rubber.name}.densityGPerCm3`]: presentBasis(basis['rubberDensityGPerCm3']),
    },
  };
}

function isOldDefault(old: MaterialSystem1): boolean {
  const { components, id } = DEFAULT_MATERIAL;
  return (
    old.id === id &&
    old.components.length === components.length &&
    old.components.every((one, i) => one.name === components[i].name)
  );
}

/** The old values on the system as it comes now; a basis of now stands where the value is the same as now. */
function layOver(old: MaterialSystem1, now: MaterialSystem): MaterialSystem {
  const basis: Record<string, Basis> = { ...now.basis };
  const keep = (path: string, oldKey: string, was: number, is: number): number => {
    if (was !== is) basis[path] = presentBasis(old.basis[oldKey]);
    return was;
  };
  const components = now.components.map((one, i): MaterialComponent => {
    const { name } = one;
    const { partsByMass, densityGPerCm3 } = old.components[i];
    return {
      ...one,
      parts: keep(`${name}.parts`, 'partsByMass', partsByMass, one.parts),
      densityGPerCm3: keep(
        `${name}.densityGPerCm3`,
        `${name}.densityGPerCm3`,
        densityGPerCm3,
        one.densityGPerCm3,
      ),
    };
  });
  const fibre = now.reinforcement;
  const reinforcement = fibre && {
    ...withTypicalShare(
      fibre,
      keep('reinforcement.typicalShare', 'fibreShare', old.fibreShare, fibre.typicalShare),
    ),
    densityGPerCm3: keep(
      'reinforcement.densityGPerCm3',
      'fibreDensityGPerCm3',
      old.fibreDensityGPerCm3,
      fibre.densityGPerCm3,
    ),
  };
  return {
    ...now,
    name: old.name,
    components,
    reinforcement,
    airShare: keep('airShare', 'airShare', old.airShare, now.airShare),
    lossShare: keep('lossShare', 'lossShare', old.lossShare, now.lossShare),
    basis,
  };
}

/** A system that the tool does not know, with two-part gypsum's times and fibre limits for what is missing. */
function fillIn(old: MaterialSystem1): MaterialSystem {
  const names = presentNames(old);
  const components = old.components.map((one, i): MaterialComponent => {
    return {
      name: names[i],
      parts: one.partsByMass,
      densityGPerCm3: one.densityGPerCm3,
      waterShare: 0,
      bindsWaterShare: 0,
      shelfLifeMonths: null,
      packs: [],
    };
  });
  const basis: Record<string, Basis> = {
    lossPerBatchG: FILLED_IN,
    times: FILLED_IN,
    mixing: FILLED_IN,
    reinforcement: FILLED_IN,
    'reinforcement.typicalShare': presentBasis(old.basis['fibreShare']),
    'reinforcement.densityGPerCm3': presentBasis(old.basis['fibreDensityGPerCm3']),
    airShare: presentBasis(old.basis['airShare']),
    lossShare: presentBasis(old.basis['lossShare']),
  };
  old.components.forEach((one, i) => {
    basis[names[i]] = FILLED_IN;
    basis[`${names[i]}.parts`] = presentBasis(old.basis['partsByMass']);
    basis[`${names[i]}.densityGPerCm3`] = presentBasis(old.basis[`${one.name}.densityGPerCm3`]);
  });
  const fibre = DEFAULT_MATERIAL.reinforcement;
  return {
    ...DEFAULT_MATERIAL,
    id: old.id,
    name: old.name,
    uses: ['shell'],
    partsBy: 'mass',
    components,
    additives: [],
    reinforcement:
      fibre && old.fibreShare > 0
        ? {
            ...withTypicalShare(fibre, old.fibreShare),
            densityGPerCm3: old.fibreDensityGPerCm3,
            name: 'fibre',
          }
        : null,
    airShare: old.airShare,
    lossShare: old.lossShare,
    lossPerBatchG: 0,
    mixing: { ...DEFAULT_MATERIAL.mixing, order: names },
    strength: null,
    shellMm: null,
    basis,
  };
}

/** The old share as the typical one; the limits give way where it lies beyond them. */
function withTypicalShare(fibre: Reinforcement, share: number): Reinforcement {
  return {
    ...fibre,
    leastShare: Math.min(fibre.leastShare, share),
    typicalShare: share,
    mostShare: Math.max(fibre.mostShare, share),
  };
}

/** Names that the present format allows: dots and outer spaces go, and a name that is none any more or is taken gets its number. */
function presentNames(old: MaterialSystem1): string[] {
  const taken = new Set<string>(['fibre']);
  return old.components.map((one, i) => {
    let name = one.name.replaceAll('.', ' ').trim();
    if (name === '' || taken.has(name) || name in DEFAULT_MATERIAL || name === 'mix')
      name = `component ${i + 1}`;
    taken.add(name);
    return name;
  });
}

/** The old format had a sentence alone; the sentence says which kind it is, or it is the file's owner's. */
function presentBasis(text: string | undefined): Basis {
  if (text === undefined || text === '') return FILLED_IN;
  if (/common practice/i.test(text)) return { kind: 'common-practice', text };
  if (/from memory/i.test(text)) return { kind: 'from-memory', text };
  return { kind: 'yours', text };
}
