import type { MaterialComponent, MaterialSystem } from '../core/plan/PlanDocument.ts';
import type { PlanEdit } from './SessionStore.ts';

type MaterialNumber =
  | 'fibreShare'
  | 'fibreDensityGPerCm3'
  | 'airShare'
  | 'lossShare'
  | 'rubberDensityGPerCm3';

/** Values that must be above zero; the others may be zero. */
const POSITIVE: readonly MaterialNumber[] = ['fibreDensityGPerCm3', 'rubberDensityGPerCm3'];

/** Beside a value that the maker has changed; says that the printed basis no longer holds. */
const OWN_BASIS = 'your own value';

/** Takes a number of the system; one that cannot be (negative, or zero for a density) is left unheard. */
export const setMaterialNumber =
  (key: MaterialNumber, value: number): PlanEdit =>
  (plan) => {
    if (!Number.isFinite(value) || value < 0 || (value === 0 && POSITIVE.includes(key))) return plan;
    if (plan.material[key] === value) return plan;
    return { ...plan, material: withOwnBasis({ ...plan.material, [key]: value }, key) };
  };

/** Takes parts or density of a component; both must be above zero. */
export const setComponent =
  (index: number, change: Partial<MaterialComponent>): PlanEdit =>
  (plan) => {
    const { partsByMass, densityGPerCm3 } = { ...plan.material.components[index], ...change };
    if (!(partsByMass > 0) || !(densityGPerCm3 > 0)) return plan;
    const components = plan.material.components.map((c, i) => (i === index ? { ...c, ...change } : c));
    const key = change.partsByMass === undefined ? componentBasisKey(plan.material, index) : 'partsByMass';
    return { ...plan, material: withOwnBasis({ ...plan.material, components }, key) };
  };

/** Where a system's `basis` speaks of a component's density. */
export function componentBasisKey(material: MaterialSystem, index: number): string {
  return `${material.components[index].name}.densityGPerCm3`;
}

function withOwnBasis(material: MaterialSystem, key: string): MaterialSystem {
  return { ...material, basis: { ...material.basis, [key]: OWN_BASIS } };
}
