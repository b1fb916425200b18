import type { PlanDocument } from './PlanDocument.ts';

/** The parts of a plan that speak of the shop and the job's course, not of the mould. */
export type WorkPlan = Pick<
  PlanDocument,
  'bench' | 'supplies' | 'stock' | 'day' | 'casting' | 'lifting' | 'log'
>;

/**
 * A small shop before it has said anything of itself. Common practice, no source, but for the release agent's half hour (one
 * supplier's figure) and the bolts' 4 to 6 in. Paces are a guess to start from: the log teaches the shop's own.
 */
export const DEFAULT_WORK: WorkPlan = {
  bench: {
    bucketMl: 5000,
    bucketFillShare: 0.6,
    mixerMostG: null,
    scales: [
      { name: 'bench scale', mostG: 5000, stepG: 1 },
      { name: 'fine scale', mostG: 200, stepG: 0.1 },
    ],
    ratioTolerance: 0.02,
    marginMin: 2,
    paceCm2PerMin: { face: 120, build: 100, reinforced: 80, finish: 100 },
    hands: 1,
    batches: 'equal',
  },
  supplies: {
    currency: '',
    shim: {
      name: 'aluminium shim',
      thicknessMm: 0.25,
      densityGPerCm3: 2.7,
      stripLengthMm: 300,
      stripWidthMm: 50,
      overlapMm: 10,
      stripsPerPack: 10,
      packPrice: null,
    },
    release: { name: 'release agent', coverageM2PerKg: 10, coats: 1, packs: [] },
    fastener: {
      name: 'bolt with wing nut',
      workingLoadN: 500,
      mostSpacingMm: 150,
      perPack: 10,
      packPrice: null,
    },
  },
  stock: [],
  day: {
    startDate: null,
    fromMin: 8 * 60,
    toMin: 17 * 60,
    weekends: false,
    order: [],
    stepMin: {
      wallPerM: 45,
      releaseBrush: 10,
      releaseDry: 30,
      setOut: 10,
      shimsOut: 10,
      edgeClean: 15,
      trimPerPiece: 20,
      open: 20,
      assemble: 20,
    },
  },
  casting: { densityGPerCm3: 1.6, attitude: 'foot-up', levelMm: 'full', wallMm: null, rubberMm: 9.5 },
  lifting: {
    horizontalMm: 'auto',
    fromMm: 200,
    toMm: 800,
    asymmetryDeg: 0,
    grip: 'poor',
    liftsPerMin: 0.2,
  },
  log: { batches: [], probes: [], closed: [] },
};
