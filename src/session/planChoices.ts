/** The closed lists that a person chooses from, for the elements, which know the core by its types and units only. */
export { COAT_KINDS, LENGTH_UNITS, UP_AXES } from '../core/plan/PlanDocument.ts';
