import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coatMix } from '../../../../src/core/material/coatMix.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import type { LoggedBatch, PlanDocument } from '../../../../src/core/plan/PlanDocument.ts';
import { plainCoat } from '../../../../src/core/plan/plainCoat.ts';
import { DONE_SLACK, planCoatWork } from '../../../../src/core/work/log/planCoatWork.ts';
import { BOX, boxGround, boxPiece, FLANGE } from './boxGround.ts';

function planOf(...coats: PlanDocument['coats']): PlanDocument {
  return { ...newPlan('box.stl'), coats };
}

const TWO_COATS = planOf(plainCoat('Face', 'face', 4), plainCoat('Build', 'build', 6));

/** A batch of which all but `leftG` went on the wall. */
function batch(coat: number, laidG: number, number = 1, piece = 'A'): LoggedBatch {
  return {
    piece,
    coat,
    number,
    mixedG: laidG + 50,
    leftG: 50,
    layMin: null,
    at: '2026-11-25T09:00:00Z',
  };
}

function withLog(plan: PlanDocument, log: Partial<PlanDocument['log']>): PlanDocument {
  return { ...plan, log: { ...plan.log, ...log } };
}

/** Mass of a volume of coat `n`, g: mm3 by g/cm3 over 1000. */
function gramsOf(plan: PlanDocument, n: number, mm3: number): number {
  return (mm3 * coatMix(plan, plan.coats[n]).mix.densityGPerCm3) / 1000;
}

function volumeOf(plan: PlanDocument, n: number, massG: number): number {
  return (massG / coatMix(plan, plan.coats[n]).mix.densityGPerCm3) * 1000;
}

describe('coats as planned', () => {
  it('have the volumes of Steiner’s layers, the mass of their mix and the area of their middle surface', () => {
    const [face, build] = planCoatWork(TWO_COATS, boxGround(['A']));
    const piece = boxPiece('A');
    expect(face.volumeMm3 + build.volumeMm3).toBeCloseTo(1_445_560.46, 1);
    expect(face.volumeMm3).toBeCloseTo(piece.shellMm3(4), 6);
    expect(face.massG).toBeCloseTo(gramsOf(TWO_COATS, 0, face.volumeMm3), 9);
    expect(face.dryMassG).toBeCloseTo(face.massG * coatMix(TWO_COATS, TWO_COATS.coats[0]).mix.dryShare, 9);
    expect(build.areaMm2).toBeCloseTo(BOX.areaMm2 + 2 * BOX.meanMm * 7 + 4 * Math.PI * 49, 6);
    for (const coat of [face, build]) {
      expect(coat).toMatchObject({ piece: 'A', pieceName: 'Piece A', isDone: false, laidG: 0, laidMm: 0 });
      expect(coat.toLayG).toBe(coat.massG);
      expect(coat.times.workingMin).toBeGreaterThan(0);
    }
    expect([face.thicknessMm, build.thicknessMm]).toEqual([4, 6]);
  });

  it('come piece by piece in the day’s order, pieces that it does not name last, as listed', () => {
    const plan = { ...TWO_COATS, day: { ...TWO_COATS.day, order: ['C', 'gone', 'A', 'C'] } };
    const work = planCoatWork(plan, boxGround(['A', 'B', 'C']));
    expect(work.map((coat) => `${coat.piece}${coat.coat}`)).toEqual(['C0', 'C1', 'A0', 'A1', 'B0', 'B1']);
  });

  it('carry the flange with the reinforced coats by their thickness, and its face on the wall once each', () => {
    const plan = planOf(
      plainCoat('Face', 'face', 2),
      plainCoat('Mat 1', 'reinforced', 2),
      plainCoat('Mat 2', 'reinforced', 4),
      plainCoat('Finish', 'finish', 2),
    );
    const work = planCoatWork(plan, boxGround(['A'], true));
    const flangeMm3 = FLANGE.lengthMm * FLANGE.thicknessMm * (FLANGE.widthMm - 10);
    expect(work.map((coat) => coat.flangeMm3)).toEqual([0, flangeMm3 / 3, (flangeMm3 * 2) / 3, 0]);
    const piece = boxPiece('A');
    expect(work[1].areaMm2 - piece.areaAtMm2(3)).toBeCloseTo(FLANGE.lengthMm * (FLANGE.widthMm - 10), 6);
    expect(work[3].areaMm2).toBeCloseTo(piece.areaAtMm2(9), 6);
    const sumMm3 = work.reduce((sum, coat) => sum + coat.volumeMm3, 0);
    expect(sumMm3).toBeCloseTo(piece.shellMm3(10) + flangeMm3, 5);
  });
});

describe('coats by the log', () => {
  const planned = planCoatWork(TWO_COATS, boxGround(['A']));
  const piece = boxPiece('A');

  it('ten per cent less in the first coat: the second makes it up to the whole volume as planned (Steiner)', () => {
    const laidG = 0.9 * planned[0].massG;
    const plan = withLog(TWO_COATS, { batches: [batch(0, laidG)], closed: [{ piece: 'A', coat: 0 }] });
    const [face, build] = planCoatWork(plan, boxGround(['A']));
    expect(face).toMatchObject({ isDone: true, toLayG: 0 });
    expect(face.laidG).toBeCloseTo(laidG, 9);
    // What is on the wall is the layer of that very volume.
    expect(piece.shellMm3(face.laidMm)).toBeCloseTo(0.9 * piece.shellMm3(4), 3);
    expect(face.thicknessMm).toBe(face.laidMm);
    expect(face.laidMm + build.thicknessMm).toBeCloseTo(10, 9);
    expect(volumeOf(plan, 0, face.laidG) + volumeOf(plan, 1, build.toLayG)).toBeCloseTo(1_445_560.46, 1);
    // What was planned stays to be seen.
    expect(build.massG).toBe(planned[1].massG);
  });

  it('the same in a coat of another density: the volume is made up, not the mass', () => {
    const mixed = planOf(plainCoat('Face', 'face', 4), plainCoat('Mat', 'reinforced', 6));
    const [first] = planCoatWork(mixed, boxGround(['A']));
    const plan = withLog(mixed, {
      batches: [batch(0, 0.9 * first.massG)],
      closed: [{ piece: 'A', coat: 0 }],
    });
    const [face, mat] = planCoatWork(plan, boxGround(['A']));
    expect(mat.densityGPerCm3).not.toBeCloseTo(face.densityGPerCm3, 3);
    expect(volumeOf(plan, 0, face.laidG) + volumeOf(plan, 1, mat.toLayG)).toBeCloseTo(1_445_560.46, 1);
  });

  it('more than planned is saved in the next coat', () => {
    const plan = withLog(TWO_COATS, { batches: [batch(0, 1.2 * planned[0].massG)] });
    const [face, build] = planCoatWork(plan, boxGround(['A']));
    expect(face.isDone).toBe(true);
    expect(face.laidMm).toBeGreaterThan(4);
    expect(face.laidMm + build.thicknessMm).toBeCloseTo(10, 9);
    expect(build.toLayG).toBeCloseTo(gramsOf(plan, 1, piece.shellMm3(10) - 1.2 * piece.shellMm3(4)), 6);
  });

  it('so much that nothing is left: the next coat comes to 0 mm and 0 g', () => {
    const massG = gramsOf(TWO_COATS, 0, piece.shellMm3(10) + 5000);
    const [face, build] = planCoatWork(withLog(TWO_COATS, { batches: [batch(0, massG)] }), boxGround(['A']));
    expect(face.laidMm).toBeCloseTo(10 + 5000 / piece.areaAtMm2(10), 6);
    expect(build).toMatchObject({ thicknessMm: 0, toLayG: 0, isDone: true, laidG: 0 });
  });

  it('a coat under way keeps the rest to lay, and the next one waits for its planned outside', () => {
    const half = planned[0].massG / 2;
    const plan = withLog(TWO_COATS, { batches: [batch(0, half / 2, 1), batch(0, half / 2, 2)] });
    const [face, build] = planCoatWork(plan, boxGround(['A']));
    expect(face.isDone).toBe(false);
    expect(face.laidG).toBeCloseTo(half, 9);
    expect(face.toLayG).toBeCloseTo(half, 6);
    expect(face.thicknessMm).toBe(4);
    expect(piece.shellMm3(face.laidMm)).toBeCloseTo(piece.shellMm3(4) / 2, 3);
    expect(build.toLayG).toBeCloseTo(planned[1].massG, 6);
    expect(build.thicknessMm).toBe(6);
  });

  it('all but two per cent is done; a little less is not', () => {
    const doneAt = (share: number): boolean =>
      planCoatWork(withLog(TWO_COATS, { batches: [batch(0, share * planned[0].massG)] }), boxGround(['A']))[0]
        .isDone;
    expect(doneAt(1 - DONE_SLACK + 1e-6)).toBe(true);
    expect(doneAt(1 - DONE_SLACK - 1e-6)).toBe(false);
  });

  it('a batch of a later coat closes the ones below it', () => {
    const plan = withLog(TWO_COATS, { batches: [batch(0, 0.5 * planned[0].massG), batch(1, 100)] });
    const [face, build] = planCoatWork(plan, boxGround(['A']));
    expect(face).toMatchObject({ isDone: true, toLayG: 0 });
    expect(build.isDone).toBe(false);
    expect(volumeOf(plan, 0, face.laidG) + volumeOf(plan, 1, build.laidG + build.toLayG)).toBeCloseTo(
      1_445_560.46,
      1,
    );
  });

  it('closed without a weight: believed to be as planned, and nothing is said to be weighed', () => {
    const [face, build] = planCoatWork(
      withLog(TWO_COATS, { closed: [{ piece: 'A', coat: 0 }] }),
      boxGround(['A']),
    );
    expect(face).toMatchObject({ isDone: true, toLayG: 0, laidG: 0, laidMm: 0, thicknessMm: 4 });
    expect(build).toMatchObject({ isDone: false, thicknessMm: 6 });
    expect(build.toLayG).toBeCloseTo(planned[1].massG, 9);
  });

  it('a rest that was not weighed is taken as planned: what the batches were to lay is what was laid', () => {
    const { lossShare, lossPerBatchG } = TWO_COATS.material;
    const mixedG = (planned[0].massG / 2) * (1 + lossShare) + lossPerBatchG;
    const unweighed = { ...batch(0, 0), mixedG, leftG: null };
    const plan = withLog(TWO_COATS, { batches: [unweighed, { ...unweighed, number: 2 }] });
    const [face] = planCoatWork(plan, boxGround(['A']));
    expect(face.laidG).toBeCloseTo(planned[0].massG, 6);
    expect(face.laidMm).toBeCloseTo(4, 6);
  });

  it('a batch smaller than the loss lays nothing, never less', () => {
    const plan = withLog(TWO_COATS, { batches: [{ ...batch(0, 0), mixedG: 1, leftG: 1 }] });
    expect(planCoatWork(plan, boxGround(['A']))[0]).toMatchObject({ laidG: 0, laidMm: 0, isDone: false });
  });

  it('one piece’s log leaves the others alone', () => {
    const plan = withLog(TWO_COATS, { batches: [batch(0, 100)] });
    const work = planCoatWork(plan, boxGround(['A', 'B']));
    const untouched = planCoatWork(TWO_COATS, boxGround(['A', 'B']));
    expect(work.slice(2)).toEqual(untouched.slice(2));
    expect(work[0].laidG).toBeCloseTo(100, 9);
  });

  it('a flange that was short is made up by the next coat, though the plan lays none with it', () => {
    const plan = planOf(plainCoat('Mat', 'reinforced', 6), plainCoat('Finish', 'finish', 4));
    const ground = boxGround(['A'], true);
    const [mat] = planCoatWork(plan, ground);
    const short = withLog(plan, { batches: [batch(0, 0.9 * mat.massG)], closed: [{ piece: 'A', coat: 0 }] });
    const [first, last] = planCoatWork(short, ground);
    const flangeMm3 = FLANGE.lengthMm * FLANGE.thicknessMm * (FLANGE.widthMm - 10);
    expect(piece.shellMm3(first.laidMm)).toBeCloseTo(0.9 * piece.shellMm3(6), 3);
    expect(volumeOf(plan, 0, first.laidG) + volumeOf(plan, 1, last.toLayG)).toBeCloseTo(
      piece.shellMm3(10) + flangeMm3,
      3,
    );
  });

  const three = planOf(
    plainCoat('One', 'face', 2),
    plainCoat('Two', 'reinforced', 5),
    plainCoat('Three', 'finish', 3),
  );
  const threePlanned = planCoatWork(three, boxGround(['A'], true));
  const afterShares = (shares: readonly number[]) => {
    const batches = shares.map((share, n) => batch(n, share * threePlanned[n].massG));
    return planCoatWork(withLog(three, { batches }), boxGround(['A'], true));
  };

  it('as long as less was laid than planned, wall and what is due come to the planned volume (seed 7)', () => {
    const wholeMm3 = threePlanned.reduce((sum, coat) => sum + coat.volumeMm3, 0);
    const share = fc.double({ min: 0.01, max: 0.95, noNaN: true });
    fc.assert(
      fc.property(fc.array(share, { minLength: 1, maxLength: 3 }), (shares) => {
        const volumeMm3 = afterShares(shares).reduce(
          (sum, coat, n) => sum + volumeOf(three, n, coat.laidG + coat.toLayG),
          0,
        );
        expect(Math.abs(volumeMm3 / wholeMm3 - 1)).toBeLessThan(1e-9);
      }),
      { seed: 7 },
    );
  });

  it('whatever was laid, no coat comes to less than nothing and an open shell ends at its planned outside or beyond (seed 8)', () => {
    const share = fc.double({ min: 0.01, max: 4, noNaN: true });
    fc.assert(
      fc.property(fc.array(share, { minLength: 1, maxLength: 3 }), (shares) => {
        const work = afterShares(shares);
        for (const coat of work) {
          expect(coat.thicknessMm).toBeGreaterThanOrEqual(0);
          expect(coat.toLayG).toBeGreaterThanOrEqual(0);
        }
        const wholeMm = work.reduce((sum, coat) => sum + coat.thicknessMm, 0);
        if (!work[2].isDone) expect(Math.abs(wholeMm - 10)).toBeLessThan(1e-9);
        else expect(wholeMm).toBeGreaterThan(10 * (1 - DONE_SLACK));
      }),
      { seed: 8 },
    );
  });
});
