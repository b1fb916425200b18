import type { Vec3 } from '../../mesh/TriMesh.ts';
import type { HandlingResult } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { sayBoth } from '../../sayBoth.ts';
import { formatMass, type UnitSystem } from '../../units.ts';
import type { LiftedPiece, LiftingGround } from './LiftingGround.ts';
import { onePersonLimit } from './onePersonLimit.ts';

/** Above this index nearly all who lift run a higher risk, "experts agree": NIOSH 94-110, p. 20, as quoted. */
const HIGH_INDEX = 3;

/** What the lifting equation does not cover, beside each figure in short and in the caution in full: NIOSH 94-110, p. 6, as quoted. */
const NOT_COVERED_SHORT = 'It does not cover carrying, kneeling, one hand or a cramped place.';
export const NOT_COVERED =
  'The NIOSH equation does not cover one hand, kneeling or seated, cramped places, loads that shift, carrying, slippery floors, heat or cold, or more than eight hours; most lifts of a shell break one of these, so take its limit as the most, not as leave.';

/**
 * Every lift with its recommended limit: each piece wet, dry and with its rubber, the whole mould with its rubber and, where it is
 * known, with the cast. 'one': index up to 1; 'two': half the mass has an index up to 1; 'hoist': beyond, or out of the equation's reach.
 *
 * The load's depth in front of the body is the shorter level side of its box: it is held with its thin side to the body.
 * Units and frame: LiftingGround. Source: NIOSH 94-110; two people sharing a load is own, the equation speaks of one.
 */
export function liftPieces(plan: PlanDocument, ground: LiftingGround): HandlingResult[] {
  const rows: HandlingResult[] = [];
  for (const piece of ground.pieces) {
    const depthMm = depthOf([piece]);
    rows.push(
      lift(`${piece.name}, wet`, piece.id, 'wet', piece.wetG, piece.wetCentreMm, depthMm),
      lift(`${piece.name}, dry`, piece.id, 'dry', piece.dryG, piece.dryCentreMm, depthMm),
    );
    if (piece.rubberShareG > 0) {
      const parts = [
        { massG: piece.dryG, centreMm: piece.dryCentreMm },
        { massG: piece.rubberShareG, centreMm: piece.rubberCentreMm },
      ];
      rows.push(
        lift(
          `${piece.name}, dry, with its rubber`,
          piece.id,
          'with-rubber',
          massOf(parts),
          centreOf(parts),
          depthMm,
        ),
      );
    }
  }
  if (ground.pieces.length === 0) return rows;
  const depthMm = depthOf(ground.pieces);
  const mould: LiftedPart[] = ground.pieces.map((piece) => ({
    massG: piece.dryG,
    centreMm: piece.dryCentreMm,
  }));
  mould.push({ massG: ground.rubberG, centreMm: ground.rubberCentreMm });
  rows.push(
    lift('Whole mould with its rubber', null, 'with-rubber', massOf(mould), centreOf(mould), depthMm),
  );
  if (ground.castG !== null) {
    const filled = [...mould, { massG: ground.castG, centreMm: ground.castCentreMm }];
    rows.push(lift('Whole mould, filled', null, 'with-cast', massOf(filled), centreOf(filled), depthMm));
  }
  return rows;

  function lift(
    what: string,
    piece: string | null,
    state: HandlingResult['state'],
    massG: number,
    centreOfMassMm: HandlingResult['centreOfMassMm'],
    depthMm: number,
  ): HandlingResult {
    const massKg = massG / 1000;
    const limitKg = onePersonLimit(plan.lifting, depthMm);
    const liftingIndex = limitKg > 0 ? massKg / limitKg : null;
    const carry =
      liftingIndex === null ? 'hoist' : liftingIndex <= 1 ? 'one' : liftingIndex <= 2 ? 'two' : 'hoist';
    return {
      what,
      piece,
      state,
      massKg,
      centreOfMassMm,
      limitKg,
      liftingIndex,
      carry,
      ...sayBoth(
        'advice',
        (system) => `${adviseLift(massKg, limitKg, liftingIndex, carry, system)} ${NOT_COVERED_SHORT}`,
      ),
    };
  }
}

function adviseLift(
  massKg: number,
  limitKg: number,
  index: number | null,
  carry: HandlingResult['carry'],
  system: UnitSystem,
): string {
  const mass = formatMass(1000 * massKg, system);
  if (index === null) {
    return `A hoist: the hands come too far out, too high or too often for the NIOSH equation, which knows no limit there for ${mass}.`;
  }
  const figures = `${mass} against a limit of ${formatMass(1000 * limitKg, system)} for one person (NIOSH equation, index ${index.toFixed(2)})`;
  if (carry === 'one') return `One person: ${figures}.`;
  if (carry === 'two') {
    return `Two people: ${figures}. Two do not share a load evenly; whoever stands nearer to its centre of mass takes more.`;
  }
  const high = index > HIGH_INDEX ? ' Above an index of 3 nearly all who lift run a higher risk.' : '';
  return `A hoist: ${figures}; half of it is still too much for each of two.${high}`;
}

/** What is lifted together with other parts. */
interface LiftedPart {
  readonly massG: number;
  readonly centreMm: Vec3 | null;
}

function massOf(parts: readonly LiftedPart[]): number {
  return parts.reduce((sum, part) => sum + part.massG, 0);
}

/** Common centre of mass, mm; null when that of a part with mass is not known. */
function centreOf(parts: readonly LiftedPart[]): Vec3 | null {
  const heavy = parts.filter((part) => part.massG > 0);
  const massG = massOf(heavy);
  if (!(massG > 0) || heavy.some((part) => part.centreMm === null)) return null;
  const at = (k: 0 | 1 | 2): number =>
    heavy.reduce((sum, part) => sum + part.massG * (part.centreMm?.[k] ?? 0), 0) / massG;
  return [at(0), at(1), at(2)];
}

/** Shorter level side of the box around the pieces, mm. */
function depthOf(pieces: readonly LiftedPiece[]): number {
  const side = (k: 0 | 1): number =>
    Math.max(...pieces.map((piece) => piece.boxMm.max[k])) -
    Math.min(...pieces.map((piece) => piece.boxMm.min[k]));
  return Math.min(side(0), side(1));
}
