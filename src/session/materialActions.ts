import { BUILT_IN_MATERIALS } from '../core/material/builtInMaterials.ts';
import type {
  Additive,
  Basis,
  DosePoint,
  MaterialComponent,
  MaterialLot,
  MaterialSystem,
  MixingRule,
  Pack,
  Reinforcement,
  Strength,
  SystemTimes,
  SystemUse,
} from '../core/material/MaterialSystem.ts';
import { parseMaterial } from '../core/material/parseMaterial.ts';
import { serialiseMaterial } from '../core/material/serialiseMaterial.ts';
import { weighCup } from '../core/material/weighCup.ts';
import type { CoatPlan, PlanDocument } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

/** Which of the plan's systems: of the shell, the rubber, the filler, or a further one that single coats choose, by its id. */
export type SystemSlot = 'shell' | 'rubber' | 'filler' | { readonly otherId: string };

/** Takes a system to the changed one. May give one that cannot be: `changeSystem` and `whyRefused` find out. */
export type SystemChange = (system: MaterialSystem) => MaterialSystem;

/** Beside a value that the maker has changed; says that the printed basis no longer holds. */
export const OWN_BASIS: Basis = { kind: 'yours', text: 'typed in here' };

/** The systems that come with the tool and are meant for this use. */
export function builtInSystems(use: SystemUse): readonly MaterialSystem[] {
  return BUILT_IN_MATERIALS.filter((system) => system.uses.includes(use));
}

/** Throws RangeError when the plan holds no further system of that id. */
export function systemIn(plan: PlanDocument, slot: SystemSlot): MaterialSystem {
  if (slot === 'shell') return plan.material;
  if (slot === 'rubber') return plan.rubber;
  if (slot === 'filler') return plan.filler;
  const found = plan.otherMaterials.find((system) => system.id === slot.otherId);
  if (!found) throw new RangeError(`The plan holds no further system “${slot.otherId}”.`);
  return found;
}

/** Applies a change to one of the plan's systems; one that makes no usable system of it is left unheard. */
export const changeSystem =
  (slot: SystemSlot, change: SystemChange): PlanEdit =>
  (plan) => {
    const system = systemIn(plan, slot);
    const next = change(system);
    return next === system || whyUnusable(next) !== null ? plan : putSystem(plan, slot, next);
  };

/** Why a change would be left unheard, a sentence; null when it will be taken. */
export function whyRefused(plan: PlanDocument, slot: SystemSlot, change: SystemChange): string | null {
  return whyUnusable(change(systemIn(plan, slot)));
}

/** One schema judges files and edits alike, so that whatever the page makes can be saved and opened again. */
function whyUnusable(system: MaterialSystem): string | null {
  try {
    parseMaterial(JSON.parse(serialiseMaterial(system)));
    return null;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

function putSystem(plan: PlanDocument, slot: SystemSlot, system: MaterialSystem): PlanDocument {
  if (slot === 'shell') return { ...plan, material: system };
  if (slot === 'rubber') return { ...plan, rubber: system };
  if (slot === 'filler') return { ...plan, filler: system };
  const otherMaterials = plan.otherMaterials.map((one) => (one.id === slot.otherId ? system : one));
  return { ...plan, otherMaterials };
}

/**
 * The shell is built of this system from now on. Coats of the plan's own system keep those additives that the new one has
 * too, at its typical dose; reinforcement and waits go back to the system's own. Thicknesses stay as they are.
 */
export const takeSystem =
  (system: MaterialSystem): PlanEdit =>
  (plan) => {
    const coats = plan.coats.map((coat) => (coat.systemId === null ? recipeIn(coat, system) : coat));
    return { ...plan, material: system, coats };
  };

/** Rubber or filler are mixed from this system from now on. */
export const takeSideSystem =
  (slot: 'rubber' | 'filler', system: MaterialSystem): PlanEdit =>
  (plan) =>
    putSystem(plan, slot, system);

/** A coat's recipe carried over to another system. */
export function recipeIn(coat: CoatPlan, system: MaterialSystem): CoatPlan {
  const kept = system.additives.filter((additive) =>
    coat.additives.some((one) => one.name === additive.name),
  );
  return {
    ...coat,
    additives: kept.map((additive) => ({ name: additive.name, doseShare: additive.typicalShare })),
    reinforcementShare: null,
    waitMin: null,
  };
}

/** Takes a further system out of the plan; one that a coat still uses stays. */
export const dropOtherSystem =
  (id: string): PlanEdit =>
  (plan) =>
    plan.coats.some((coat) => coat.systemId === id)
      ? plan
      : { ...plan, otherMaterials: plan.otherMaterials.filter((one) => one.id !== id) };

/** Further systems that no coat uses. */
export function idleSystems(plan: PlanDocument): readonly MaterialSystem[] {
  return plan.otherMaterials.filter((system) => !plan.coats.some((coat) => coat.systemId === system.id));
}

/** Marks all values under a path as the user's own. */
function owned(system: MaterialSystem, path: string): MaterialSystem {
  return { ...system, basis: { ...withoutBelow(system.basis, path), [path]: OWN_BASIS } };
}

function ownedKeys(system: MaterialSystem, below: string, change: object): MaterialSystem {
  return Object.keys(change).reduce(
    (next, key) => owned(next, below === '' ? key : `${below}.${key}`),
    system,
  );
}

export type SystemNumbers = Pick<MaterialSystem, 'airShare' | 'lossShare' | 'lossPerBatchG'>;

export const setNumbers =
  (change: Partial<SystemNumbers>): SystemChange =>
  (system) =>
    ownedKeys({ ...system, ...change }, '', change);

export const setPartsBy =
  (partsBy: MaterialSystem['partsBy']): SystemChange =>
  (system) =>
    system.partsBy === partsBy
      ? system
      : system.components.reduce((next, c) => owned(next, `${c.name}.parts`), { ...system, partsBy });

export const setTimes =
  (change: Partial<SystemTimes>): SystemChange =>
  (system) =>
    ownedKeys({ ...system, times: { ...system.times, ...change } }, 'times', change);

export const setMixing =
  (change: Partial<MixingRule>): SystemChange =>
  (system) =>
    ownedKeys({ ...system, mixing: { ...system.mixing, ...change } }, 'mixing', change);

/** Moves an item of the order of mixing one place earlier. */
export const moveEarlier =
  (name: string): SystemChange =>
  (system) => {
    const order = [...system.mixing.order];
    const at = order.indexOf(name);
    if (at < 1) return system;
    [order[at - 1], order[at]] = [order[at], order[at - 1]];
    return setMixing({ order })(system);
  };

export const setShellRange =
  (change: Partial<NonNullable<MaterialSystem['shellMm']>>): SystemChange =>
  (system) =>
    system.shellMm === null
      ? system
      : ownedKeys({ ...system, shellMm: { ...system.shellMm, ...change } }, 'shellMm', change);

export const setStrength =
  (change: Partial<Strength>): SystemChange =>
  (system) =>
    system.strength === null
      ? system
      : ownedKeys({ ...system, strength: { ...system.strength, ...change } }, 'strength', change);

/** Takes values of a component; `packs` go by `setPacks`. */
export const setComponent =
  (index: number, change: Partial<Omit<MaterialComponent, 'name' | 'packs'>>): SystemChange =>
  (system) => {
    const component = system.components[index];
    if (!component) return system;
    const components = system.components.map((c, i) => (i === index ? { ...c, ...change } : c));
    return ownedKeys({ ...system, components }, component.name, change);
  };

/** Takes values of an additive; its effects go by `setEffect`, its packs by `setPacks`. */
export const setAdditive =
  (index: number, change: Partial<Omit<Additive, 'name' | 'effects' | 'packs'>>): SystemChange =>
  (system) => {
    const additive = system.additives[index];
    if (!additive) return system;
    const additives = system.additives.map((a, i) => (i === index ? { ...a, ...change } : a));
    return ownedKeys({ ...system, additives }, additive.name, change);
  };

export type EffectKey = keyof Additive['effects'];

/** The points of one effect, put in order of the dose. */
export const setEffect =
  (index: number, key: EffectKey, points: readonly DosePoint[]): SystemChange =>
  (system) => {
    const additive = system.additives[index];
    if (!additive) return system;
    const sorted = [...points].sort((a, b) => a.doseShare - b.doseShare);
    const next: Additive = { ...additive, effects: { ...additive.effects, [key]: sorted } };
    const additives = system.additives.map((a, i) => (i === index ? next : a));
    return owned({ ...system, additives }, `${additive.name}.effects.${key}`);
  };

/** A fresh additive: what it does and how much of it are the user's to give. Dose and density are places to start from. */
export const addAdditive =
  (name: string): SystemChange =>
  (system) => {
    const additive: Additive = {
      name,
      base: 'mix',
      leastShare: 0,
      typicalShare: 0.01,
      mostShare: 0.02,
      densityGPerCm3: 1,
      solution: null,
      effects: { workingMin: [], partialCureMin: [], fullCureMin: [] },
      shelfLifeMonths: null,
      packs: [],
    };
    return owned(
      {
        ...system,
        additives: [...system.additives, additive],
        mixing: { ...system.mixing, order: [...system.mixing.order, name] },
      },
      name,
    );
  };

export const setReinforcement =
  (change: Partial<Omit<Reinforcement, 'packs'>>): SystemChange =>
  (system) =>
    system.reinforcement === null
      ? system
      : ownedKeys(
          { ...system, reinforcement: { ...system.reinforcement, ...change } },
          'reinforcement',
          change,
        );

/** Whose packs are meant. */
export type PackOwner =
  | { readonly of: 'component' | 'additive'; readonly index: number }
  | { readonly of: 'reinforcement' };

export function packsOf(system: MaterialSystem, owner: PackOwner): readonly Pack[] {
  if (owner.of === 'reinforcement') return system.reinforcement?.packs ?? [];
  return (owner.of === 'component' ? system.components : system.additives)[owner.index]?.packs ?? [];
}

/** Pack sizes and prices; smallest first, as they stand on a shelf. */
export const setPacks =
  (owner: PackOwner, packs: readonly Pack[]): SystemChange =>
  (system) => {
    const sorted = [...packs].sort((a, b) => a.massG - b.massG);
    if (owner.of === 'reinforcement') {
      if (system.reinforcement === null) return system;
      return owned(
        { ...system, reinforcement: { ...system.reinforcement, packs: sorted } },
        'reinforcement.packs',
      );
    }
    const key = owner.of === 'component' ? 'components' : 'additives';
    const name = system[key][owner.index]?.name;
    if (name === undefined) return system;
    const list = system[key].map((one, i) => (i === owner.index ? { ...one, packs: sorted } : one));
    return owned({ ...system, [key]: list }, `${name}.packs`);
  };

/** Takes an additive out of a system, and its doses out of the coats that are mixed from it. */
export const removeAdditive =
  (slot: SystemSlot, name: string): PlanEdit =>
  (plan) => {
    const changed = changeSystem(slot, (system) => ({
      ...system,
      additives: system.additives.filter((additive) => additive.name !== name),
      mixing: { ...system.mixing, order: system.mixing.order.filter((item) => item !== name) },
      basis: withoutBelow(system.basis, name),
    }))(plan);
    if (changed === plan) return plan;
    return {
      ...changed,
      coats: changed.coats.map((coat) =>
        isMixedFrom(coat, slot)
          ? { ...coat, additives: coat.additives.filter((dose) => dose.name !== name) }
          : coat,
      ),
    };
  };

function isMixedFrom(coat: CoatPlan, slot: SystemSlot): boolean {
  if (slot === 'rubber' || slot === 'filler') return false;
  return slot === 'shell' ? coat.systemId === null : coat.systemId === slot.otherId;
}

function withoutBelow(basis: MaterialSystem['basis'], path: string): MaterialSystem['basis'] {
  return Object.fromEntries(
    Object.entries(basis).filter(([key]) => key !== path && !key.startsWith(`${path}.`)),
  );
}

/** Values measured on one lot of the product, in the place of what was known of it; that lot is then in use. */
export const setLot =
  (lot: string, change: Partial<Omit<MaterialLot, 'lot'>>): SystemChange =>
  (system) => {
    const known = system.lots.find((one) => one.lot === lot);
    const next: MaterialLot = {
      ...(known ?? { lot, densityGPerCm3: null, workingMin: null, partialCureMin: null, fullCureMin: null }),
      ...change,
    };
    const lots = known ? system.lots.map((one) => (one.lot === lot ? next : one)) : [...system.lots, next];
    return { ...system, lots, lotInUse: lot };
  };

/** Counts by this lot's measured values, or by none. */
export const useLot =
  (lot: string | null): SystemChange =>
  (system) => ({ ...system, lotInUse: lot });

export const removeLot =
  (lot: string): SystemChange =>
  (system) => ({
    ...system,
    lots: system.lots.filter((one) => one.lot !== lot),
    lotInUse: system.lotInUse === lot ? null : system.lotInUse,
  });

/** Density of a weighed cup, g/cm3, or a sentence that says what is off in the weighing. */
export function densityOfCup(
  weighed: Parameters<typeof weighCup>[0],
): { readonly densityGPerCm3: number } | { readonly problem: string } {
  try {
    return { densityGPerCm3: weighCup(weighed) };
  } catch (error) {
    return { problem: error instanceof Error ? error.message : String(error) };
  }
}

/** A system out of a material file's text. Throws SyntaxError when it is not JSON, PlanError when it is no system. */
export function readMaterialFile(text: string): MaterialSystem {
  return parseMaterial(JSON.parse(text));
}

/** The material file of a system, named after its id. */
export function writeMaterialFile(system: MaterialSystem): { readonly name: string; readonly text: string } {
  return { name: `${system.id}.scute-material.json`, text: serialiseMaterial(system) };
}

/** The same values as the user's own system: under another name, and an id that no other has. */
export function asOwnSystem(
  system: MaterialSystem,
  name: string,
  takenIds: readonly string[],
): MaterialSystem {
  const stem =
    name
      .normalize('NFKD')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, LONGEST_STEM)
      .replace(/-+$/, '') || 'own-system';
  const taken = new Set([...takenIds, ...BUILT_IN_MATERIALS.map((one) => one.id)]);
  let id = stem;
  for (let n = 2; taken.has(id); n++) id = `${stem}-${n}`;
  return { ...system, id, name };
}

/** Leaves room for a number within the 64 characters of an id. */
const LONGEST_STEM = 56;

/** The system under another name and id; coats that choose it by its id go on choosing it. */
export const renameSystem =
  (slot: SystemSlot, own: Pick<MaterialSystem, 'id' | 'name'>): PlanEdit =>
  (plan) => {
    const before = systemIn(plan, slot);
    const changed = changeSystem(slot, (system) => ({ ...system, ...own }))(plan);
    if (changed === plan || typeof slot === 'string') return changed;
    return {
      ...changed,
      coats: changed.coats.map((coat) =>
        coat.systemId === before.id ? { ...coat, systemId: own.id } : coat,
      ),
    };
  };
