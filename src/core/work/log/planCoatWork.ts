import { coatMix } from '../../material/coatMix.ts';
import { coatTimes } from '../../material/coatTimes.ts';
import { flangeShares } from '../../material/flangeShares.ts';
import type { CoatWork } from '../../PlanResult.ts';
import type { LoggedBatch, PlanDocument } from '../../plan/PlanDocument.ts';
import { totalThicknessMm } from '../../plan/totalThicknessMm.ts';
import type { PieceGround, WorkGround } from '../WorkGround.ts';
import { laidOfBatch } from './laidOfBatch.ts';
import { thicknessOfVolume } from './thicknessOfVolume.ts';

/**
 * A coat counts as done once all but this share of what was due is on the wall. Common practice, no source: nobody mixes
 * a batch for the last fiftieth, it is within what a brush leaves uneven.
 */
export const DONE_SLACK = 0.02;

/** g/cm3 to g/mm3. */
const CM3_PER_MM3 = 1e-3;

/**
 * Every coat of every piece, in the order of the work: what it takes as planned, and by the log what is on the wall and
 * what is still to be laid. Pieces in the day's order, then as listed; coats outward.
 *
 * The remaining coats keep their outer distance from the rubber: where a coat got less than was due, the next open one
 * begins lower and makes it up, where it got more, the next saves it, down to nothing (`thicknessMm` 0). Coat and flange
 * are taken to be short or over alike. A coat that is done without any logged batch is taken to be laid as was due: its
 * `thicknessMm` says so, `laidG` stays 0.
 * Area: the coat's middle surface as planned; with a coat that the flange is built of, the flange's face on the parting
 * wall as well, which the coat covers once (length times what the flange stands beyond the shell).
 */
export function planCoatWork(plan: PlanDocument, ground: WorkGround): CoatWork[] {
  return orderPieces(plan, ground.pieces).flatMap((piece) => workOfPiece(plan, ground, piece));
}

/** The pieces in the order in which they are built: those that the day names, then the others as listed. */
export function orderPieces<Piece extends { readonly id: string }>(
  plan: Pick<PlanDocument, 'day'>,
  pieces: readonly Piece[],
): Piece[] {
  const named = plan.day.order.flatMap((id) => pieces.find((piece) => piece.id === id) ?? []);
  return [...new Set([...named, ...pieces])];
}

/** What is on the wall of one piece while its coats are walked outward. */
interface Wall {
  shellMm3: number;
  flangeMm3: number;
  /** Mean distance of its outside from the rubber, mm. */
  reachesMm: number;
}

function workOfPiece(plan: PlanDocument, ground: WorkGround, piece: PieceGround): CoatWork[] {
  const outerMm = totalThicknessMm(plan.coats);
  const flangeMm3OfPiece = piece.flangeMm3(outerMm);
  const shares = flangeShares(plan.coats);
  const flangeFaceMm2 = piece.flange.lengthMm * Math.max(0, ground.flangeWidthMm - outerMm);
  // A batch of a coat that was taken out of the plan since must not close those that are left.
  const logged = plan.log.batches.filter(
    (batch) => batch.piece === piece.id && batch.coat < plan.coats.length,
  );
  const wall: Wall = { shellMm3: 0, flangeMm3: 0, reachesMm: 0 };
  let fromMm = 0;
  let flangeDueMm3 = 0;
  return plan.coats.map((coat, number) => {
    const toMm = fromMm + coat.thicknessMm;
    const middleMm = (fromMm + toMm) / 2;
    const { system, mix } = coatMix(plan, coat);
    const shellMm3 = Math.max(0, piece.shellMm3(toMm) - piece.shellMm3(fromMm));
    const flangeMm3 = flangeMm3OfPiece * shares[number];
    const volumeMm3 = shellMm3 + flangeMm3;
    const massG = volumeMm3 * CM3_PER_MM3 * mix.densityGPerCm3;
    fromMm = toMm;
    flangeDueMm3 += flangeMm3;

    const dueShellMm3 = Math.max(0, piece.shellMm3(toMm) - wall.shellMm3);
    const dueFlangeMm3 = Math.max(0, flangeDueMm3 - wall.flangeMm3);
    const dueG = (dueShellMm3 + dueFlangeMm3) * CM3_PER_MM3 * mix.densityGPerCm3;
    const batches = logged.filter((batch) => batch.coat === number);
    const laidG = batches.reduce((sum, batch) => sum + laidOfBatch(batch, system), 0);
    const isDone = isClosed(plan, piece, number, logged) || laidG >= dueG * (1 - DONE_SLACK);
    const begunMm = wall.reachesMm;
    const dueMm = Math.max(0, toMm - begunMm);
    let laidMm = 0;
    if (batches.length > 0) {
      const laidMm3 = laidG / (CM3_PER_MM3 * mix.densityGPerCm3);
      const dueMm3 = dueShellMm3 + dueFlangeMm3;
      // Where nothing was due, what went on all the same went on the shell.
      const onShell = dueMm3 > 0 ? dueShellMm3 / dueMm3 : 1;
      wall.shellMm3 += laidMm3 * onShell;
      wall.flangeMm3 += laidMm3 * (1 - onShell);
      wall.reachesMm = Math.max(begunMm, thicknessOfVolume(piece, wall.shellMm3, outerMm));
      laidMm = wall.reachesMm - begunMm;
    }
    // An open coat is to be finished before the next begins; a done one without a log is believed to be as was due.
    if (!isDone || batches.length === 0) {
      wall.shellMm3 = Math.max(wall.shellMm3, piece.shellMm3(toMm));
      wall.flangeMm3 = Math.max(wall.flangeMm3, flangeDueMm3);
      wall.reachesMm = Math.max(wall.reachesMm, toMm);
    }
    return {
      piece: piece.id,
      pieceName: piece.name,
      coat: number,
      name: coat.name,
      kind: coat.kind,
      systemId: system.id,
      volumeMm3,
      flangeMm3,
      areaMm2: piece.areaAtMm2(middleMm) + (flangeMm3 > 0 ? flangeFaceMm2 : 0),
      densityGPerCm3: mix.densityGPerCm3,
      massG,
      dryMassG: massG * mix.dryShare,
      times: coatTimes(system, coat).times,
      laidG,
      laidMm,
      toLayG: isDone ? 0 : Math.max(0, dueG - laidG),
      thicknessMm: isDone && batches.length > 0 ? laidMm : dueMm,
      isDone,
    };
  });
}

/** The user closed it, or a coat further out was begun. */
function isClosed(
  plan: Pick<PlanDocument, 'log'>,
  piece: Pick<PieceGround, 'id'>,
  coat: number,
  loggedOfPiece: readonly LoggedBatch[],
): boolean {
  return (
    plan.log.closed.some((one) => one.piece === piece.id && one.coat === coat) ||
    loggedOfPiece.some((batch) => batch.coat > coat)
  );
}
