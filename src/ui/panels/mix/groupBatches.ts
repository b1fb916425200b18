import type { BatchResult, PlanResult } from '../../../core/PlanResult.ts';
import { sayPiece } from '../../sayPiece.ts';

/** Batches of a coat, one after the other, that are weighed alike. */
export interface BatchRun {
  readonly first: number;
  readonly last: number;
  readonly batch: BatchResult;
  /** How many of them are ticked in the log. */
  readonly logged: number;
}

export interface CoatBatches {
  readonly coatNumber: number;
  readonly name: string;
  readonly runs: readonly BatchRun[];
  /** What is weighed, in the order in which it goes in. */
  readonly items: readonly string[];
  readonly mixedG: number;
}

export interface PieceBatches {
  readonly id: string;
  readonly name: string;
  readonly coats: readonly CoatBatches[];
}

/** Batches by piece and coat, in the order of the work; neighbours that are weighed alike stand together. */
export function groupBatches({
  batches,
  pieces,
}: Pick<PlanResult, 'batches' | 'pieces'>): readonly PieceBatches[] {
  const ids = [...new Set(batches.map((batch) => batch.piece))];
  return ids.map((id) => {
    const ofPiece = batches.filter((batch) => batch.piece === id);
    const numbers = [...new Set(ofPiece.map((batch) => batch.coatNumber))];
    return {
      id,
      name: sayPiece(pieces.find((piece) => piece.id === id) ?? { id, name: id }),
      coats: numbers.map((coatNumber) => groupCoat(ofPiece.filter((b) => b.coatNumber === coatNumber))),
    };
  });
}

function groupCoat(batches: readonly BatchResult[]): CoatBatches {
  const runs: BatchRun[] = [];
  for (const batch of batches) {
    const before = runs.at(-1);
    const logged = batch.loggedG === null ? 0 : 1;
    if (before && before.last === batch.number - 1 && isAlike(before.batch, batch)) {
      runs[runs.length - 1] = { ...before, last: batch.number, logged: before.logged + logged };
    } else runs.push({ first: batch.number, last: batch.number, batch, logged });
  }
  const items = new Set<string>();
  for (const { batch } of runs) {
    for (const step of batch.steps) items.add(step.item);
    for (const name of Object.keys(batch.componentsG)) items.add(name);
  }
  return {
    coatNumber: batches[0].coatNumber,
    name: batches[0].coat,
    runs,
    items: [...items],
    mixedG: batches.reduce((sum, batch) => sum + batch.mixedG, 0),
  };
}

function isAlike(a: BatchResult, b: BatchResult): boolean {
  const names = Object.keys(a.componentsG);
  return (
    (a.loggedG === null) === (b.loggedG === null) &&
    names.length === Object.keys(b.componentsG).length &&
    names.every((name) => a.componentsG[name] === b.componentsG[name])
  );
}
