/** Where a system's values come from, for the elements, which know the core by its types and units only. */
export { basisOf } from '../core/material/basisOf.ts';
export { sayBasis } from '../core/material/sayBasis.ts';
