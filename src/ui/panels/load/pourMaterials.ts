/** Something that is poured into moulds: its density as it is poured, and where the figure comes from. */
export interface PourMaterial {
  readonly id: string;
  readonly name: string;
  readonly densityGPerCm3: number;
  readonly basis: string;
}

/** What is poured most; the upper figure where a source gives a span, since the load grows with it. */
export const POUR_MATERIALS: readonly PourMaterial[] = [
  {
    id: 'plaster',
    name: 'Gypsum plaster',
    densityGPerCm3: 1.6,
    basis:
      '1.59 at 70 parts of water to 100 of powder, by a model that fits five published densities; rounded up',
  },
  { id: 'concrete', name: 'Concrete', densityGPerCm3: 2.4, basis: 'published: 2.3 to 2.4' },
  {
    id: 'wax',
    name: 'Wax',
    densityGPerCm3: 0.96,
    basis: 'published, of beeswax; paraffin is about 0.90, from memory',
  },
  { id: 'silicone', name: 'Silicone rubber', densityGPerCm3: 1.28, basis: 'published by a supplier' },
  {
    id: 'urethane',
    name: 'Urethane resin or rubber',
    densityGPerCm3: 1.07,
    basis: 'published by a supplier: 1.03 to 1.07',
  },
  { id: 'resin', name: 'Casting resin', densityGPerCm3: 1.1, basis: 'from memory: 1.05 to 1.10, unfilled' },
];
