import brushableRubber from '../../../assets/material/brushable-rubber.json' with { type: 'json' };
import plasterBurlap from '../../../assets/material/casting-plaster-burlap.json' with { type: 'json' };
import plasterFibre from '../../../assets/material/casting-plaster-fibre.json' with { type: 'json' };
import epoxyLaminate from '../../../assets/material/epoxy-laminate.json' with { type: 'json' };
import polyesterMat from '../../../assets/material/polyester-mat.json' with { type: 'json' };
import thickenedRubber from '../../../assets/material/thickened-rubber.json' with { type: 'json' };
import polymerGypsum from '../../../assets/material/two-part-polymer-gypsum.json' with { type: 'json' };
import { checkMaterialFile } from './checkMaterialFile.ts';
import type { MaterialSystem } from './MaterialSystem.ts';

/** What a shell is built of, what the rubber is, and what fills undercuts, when nothing else is chosen. */
export const DEFAULT_MATERIAL: MaterialSystem = checkMaterialFile(polymerGypsum);
export const DEFAULT_RUBBER: MaterialSystem = checkMaterialFile(brushableRubber);
export const DEFAULT_FILLER: MaterialSystem = checkMaterialFile(thickenedRubber);

/** The systems that come with the tool. Held to the same schema as a user's own file. */
export const BUILT_IN_MATERIALS: readonly MaterialSystem[] = [
  DEFAULT_MATERIAL,
  checkMaterialFile(plasterBurlap),
  checkMaterialFile(plasterFibre),
  checkMaterialFile(polyesterMat),
  checkMaterialFile(epoxyLaminate),
  DEFAULT_RUBBER,
  DEFAULT_FILLER,
];

/** The built-in system of this id, or undefined. */
export function findMaterial(id: string): MaterialSystem | undefined {
  return BUILT_IN_MATERIALS.find((system) => system.id === id);
}
