import type { PlanResult } from '../core/PlanResult.ts';
import type { CoatKind, MaterialSystem } from '../core/plan/PlanDocument.ts';
import { sumCoats } from './sumCoats.ts';

export interface MixRow {
  readonly name: string;
  /** To be mixed in all, g: what goes on the wall and what stays in buckets and brushes. */
  readonly mixedG: number;
  /** By order of the system's components, g. */
  readonly componentsG: readonly number[];
  readonly fibreG: number;
}

/**
 * The result's masses shared out over the system's components, one row a coat, then the flange, then all together.
 * Only shares are taken here: the masses themselves come with the result. test/ui holds this against the core.
 */
export function mixShares(
  result: PlanResult,
  system: MaterialSystem,
): {
  readonly rows: readonly MixRow[];
  readonly total: MixRow;
} {
  const rows = sumCoats(result).map((coat) => shareOut(coat.name, coat.massG, coat.kind, system));
  const flangeG = result.pieces.reduce((sum, piece) => sum + piece.flange.massG, 0);
  // The flange is laid up as reinforced coats are.
  if (flangeG > 0) rows.push(shareOut('Flange', flangeG, 'reinforced', system));
  const total: MixRow = {
    name: 'Together',
    mixedG: rows.reduce((sum, r) => sum + r.mixedG, 0),
    componentsG: system.components.map((_, i) => rows.reduce((sum, r) => sum + r.componentsG[i], 0)),
    fibreG: rows.reduce((sum, r) => sum + r.fibreG, 0),
  };
  return { rows, total };
}

function shareOut(name: string, laidUpG: number, kind: CoatKind | string, system: MaterialSystem): MixRow {
  const mixedG = laidUpG * (1 + system.lossShare);
  const fibreShare = kind === 'reinforced' ? system.fibreShare : 0;
  const withoutFibreG = mixedG / (1 + fibreShare);
  const parts = system.components.reduce((sum, c) => sum + c.partsByMass, 0);
  return {
    name,
    mixedG,
    componentsG: system.components.map((c) => (withoutFibreG * c.partsByMass) / parts),
    fibreG: mixedG - withoutFibreG,
  };
}
