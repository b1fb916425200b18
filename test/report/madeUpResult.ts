import type { PlanResult, UndercutResult } from '../../src/core/PlanResult.ts';

/** A result with made-up round figures, to see them laid out; no claim that any plan gives them. */
export function madeUpResult(): PlanResult {
  const coat = (name: string, kind: string, fromMm: number, toMm: number, volumeMm3: number) => ({
    name,
    kind,
    fromMm,
    toMm,
    volumeMm3,
    volumeErrorMm3: volumeMm3 / 200,
    massG: volumeMm3 * 0.00185,
    massErrorG: (volumeMm3 * 0.00185) / 200,
    dryMassG: volumeMm3 * 0.0017,
  });
  const thinSpot = (id: string) => ({
    id,
    areaMm2: 1_200,
    minMm: 4.2,
    pointMm: [0, -60, 200] as const,
    aboveBoardMm: 200,
    side: 'front' as const,
    lackMm3: 2_000,
    mostLackMm: 2.1,
    massG: 4.6,
  });
  const piece = (id: string, name: string, pull: readonly [number, number, number], size: number) => ({
    id,
    name,
    pull,
    areaMm2: 60_000 * size,
    volumeMm3: 620_000 * size,
    volumeErrorMm3: 3_100 * size,
    massG: 1_147 * size,
    massErrorG: 5.7 * size,
    centreOfMassMm: [0, 10, 120] as const,
    dryMassG: 1_050 * size,
    dryCentreOfMassMm: [0, 10, 121] as const,
    boxMm: { min: [-120, -90, 0] as const, max: [120, 90, 284] as const },
    coats: [
      coat('Face', 'face', 0, 1.5, 90_000 * size),
      coat('Build', 'build', 1.5, 4, 150_000 * size),
      coat('Reinforced', 'reinforced', 4, 7.5, 210_000 * size),
      coat('Finish', 'finish', 7.5, 9.5, 120_000 * size),
    ],
    flange: { lengthMm: 900, clearMm: 0, volumeMm3: 50_000, volumeErrorMm3: 250, massG: 92 },
    undercut: null,
    thin: {
      minMm: 4.2,
      areaBelowMm2: size > 1 ? 1_200 : 0,
      levelledByMm: 30,
      levelling: { volumeMm3: 8_000, massG: 14.8 },
      spots: size > 1 ? [thinSpot(`${id}1`)] : [],
      spotCount: size > 1 ? 1 : 0,
      rest: { areaMm2: 0, lackMm3: 0, massG: 0 },
      ridgeCoat:
        size > 1
          ? {
              coat: 'Build',
              volumeMm3: 2_500,
              massG: 4.6,
              marginShare: 0.25,
              text: 'A ridge coat of 5 g.',
              usText: 'A ridge coat of 0.2 oz.',
            }
          : null,
    },
  });
  return {
    schema: 'scute-result/1',
    scan: {
      triangles: 65_690,
      vertices: 32_982,
      components: 1,
      openEdges: 276,
      openLoops: 1,
      nonManifoldEdges: 0,
      sizeMm: [230, 160, 274],
      unit: 'mm',
      warnings: [{ code: 'unit-guessed', text: 'The file has no unit; millimetres were taken.' }],
      repairs: [{ code: 'welded', text: '12 vertices were welded.', count: 12 }],
    },
    resolutionMm: 0.5,
    preliminary: false,
    rubber: { areaMm2: 150_000, heightMm: 274, volumeMm3: 1_900_000, layer: null },
    shell: {
      thicknessMm: 9.5,
      volumeMm3: 1_550_000,
      volumeErrorMm3: 7_750,
      massG: 2_867.5,
      massErrorG: 14.3,
    },
    pieces: [piece('A', 'front', [0, -1, 0], 1), piece('B', 'back', [0, 1, 0], 1.5)],
    filler: null,
    removal: null,
    partingLines: [{ between: ['A', 'B'], lengthMm: 900, points: [] }],
    ...madeUpWork(),
    cautions: [
      { step: 'Casting', text: 'It bears 4.30 kPa.', usText: 'It bears 0.62 psi.' },
      { step: 'Mixing', text: 'Keep powder out of the air.' },
    ],
    timesMs: { read: 1, repair: 1, field: 1, coats: 1, thin: 0, pieces: 1, undercut: 0, total: 5 },
  };
}

/** One batch of one coat, one thing to buy, a morning, a filling and a lift, made up. */
function madeUpWork(): Pick<
  PlanResult,
  | 'coatWork'
  | 'batches'
  | 'shopping'
  | 'schedule'
  | 'day'
  | 'cost'
  | 'comparison'
  | 'casting'
  | 'handling'
  | 'probes'
  | 'workNotes'
> {
  return {
    coatWork: [
      {
        piece: 'A',
        pieceName: 'front',
        coat: 0,
        name: 'Face',
        kind: 'face',
        systemId: 'two-part-polymer-gypsum',
        volumeMm3: 90_000,
        flangeMm3: 0,
        areaMm2: 60_000,
        densityGPerCm3: 1.85,
        massG: 166.5,
        dryMassG: 150,
        times: { workingMin: 15, partialCureMin: 30, fullCureMin: 60, latestOvercoatMin: null },
        laidG: 0,
        laidMm: 0,
        toLayG: 166.5,
        thicknessMm: 1.5,
        isDone: false,
      },
    ],
    batches: [
      {
        piece: 'A',
        coat: 'Face',
        coatNumber: 0,
        number: 1,
        of: 1,
        componentsG: { powder: 130, liquid: 52 },
        mixedG: 182,
        laidG: 166.5,
        volumeMl: 98.4,
        areaMm2: 60_000,
        steps: [
          { item: 'liquid', massG: 52, scale: 'bench scale', say: '' },
          { item: 'powder', massG: 130, scale: 'bench scale', say: '' },
        ],
        workingTimeMin: 15,
        mixMin: 3,
        layMin: 5,
        ratioOff: 0,
        loggedG: null,
      },
    ],
    shopping: [
      {
        item: 'powder',
        kind: 'component',
        neededG: 4_000,
        neededCount: null,
        inStockG: 0,
        packG: 5_000,
        packs: 1,
        leftG: 1_000,
        cost: 21,
        say: 'and 2 of 1.00 kg',
        usSay: 'and 2 of 2 lb 3.3 oz',
      },
    ],
    schedule: [
      {
        id: 'A-face-1',
        what: 'Face, batch 1 of 1',
        kind: 'batch',
        piece: 'A',
        coat: 'Face',
        coatNumber: 0,
        batch: 1,
        startMin: 480,
        endMin: 488,
        attended: true,
        who: 1,
        after: [],
        soonestMin: null,
        latestMin: null,
      },
      {
        id: 'A-face-cure',
        what: 'Face, partial cure',
        kind: 'cure',
        piece: 'A',
        coat: 'Face',
        coatNumber: 0,
        batch: null,
        startMin: 488,
        endMin: 518,
        attended: false,
        who: null,
        after: ['A-face-1'],
        soonestMin: null,
        latestMin: null,
      },
    ],
    day: { startDate: '2026-12-01', endMin: 518, attendedMin: 8, unattendedMin: 30, days: 1, hands: 1 },
    cost: {
      total: 21,
      currency: 'EUR',
      byItem: { powder: 21 },
      byPiece: { A: 8, B: 12 },
      byCoat: { Face: 20 },
      unpriced: ['liquid'],
    },
    comparison: null,
    casting: {
      densityGPerCm3: 1.6,
      attitude: 'foot-up',
      headMm: 274,
      maxPressurePa: 4_299,
      closingForceN: 120,
      pieces: [
        { piece: 'A', forceN: [0, -120, 30], openingN: 120, centreOfPressureMm: [0, -60, 180] },
        { piece: 'B', forceN: [0, 118, 30], openingN: 118, centreOfPressureMm: [0, 60, 180] },
      ],
      fasteners: 8,
      fastenerSpacingMm: 96,
      fastenerPoints: [],
      upliftN: -28,
      holdingWeightN: 28,
      seam: { pressurePa: 4_299, pointMm: [0, 0, 274] },
      screening: [
        {
          piece: 'A',
          formula: 'membrane',
          from: 'radius 90.0 mm',
          usFrom: 'radius 3 1/2 in',
          stressMPa: 0.04,
          deflectionMm: null,
          reserve: 200,
        },
      ],
      castG: 2_400,
      filledMouldG: 6_100,
      says: ['A comparison for a skilled person, not a design.', 'Rubber of 40.0 mm would fill all.'],
      usSays: ['A comparison for a skilled person, not a design.', 'Rubber of 1 9/16 in would fill all.'],
    },
    handling: [
      {
        what: 'front, dry',
        piece: 'A',
        state: 'dry',
        massKg: 1.05,
        centreOfMassMm: [0, 10, 121],
        limitKg: 9,
        liftingIndex: 0.12,
        carry: 'one',
        advice: 'One person: 1.05 kg, both hands.',
        usAdvice: 'One person: 2 lb 5.0 oz, both hands.',
      },
    ],
    probes: [{ number: 1, piece: 'A', pointMm: [0, -60, 200], predictedMm: 4.2, measured: [] }],
    workNotes: [
      {
        code: 'price-missing',
        piece: null,
        coat: null,
        text: 'The liquid has no price; the cost is without it.',
      },
      {
        code: 'short-of-stock',
        piece: 'A',
        coat: 0,
        text: 'You will run short of powder: 1.00 kg in stock.',
        usText: 'You will run short of powder: 2 lb 3.3 oz in stock.',
      },
    ],
  };
}

/** A spot and its sums, made up. */
export function madeUpUndercut(): UndercutResult {
  return {
    areaMm2: 1_240,
    areaErrorMm2: 12,
    facingAwayMm2: 900,
    overshadowedMm2: { byRubber: 340, byPiece: 0, byBoard: 0 },
    maxDepthMm: 6.2,
    maxDepthErrorMm: 0.1,
    fillerMm3: 4_300,
    fillerErrorMm3: 20,
    fillerG: 4.73,
    beyondGive: { areaMm2: 1_000, fillerMm3: 4_000, fillerG: 4.4 },
    leastDraftDeg: -38,
    spots: [
      {
        id: 'A1',
        kind: 'overshadowed',
        by: 'rubber',
        areaMm2: 1_000,
        maxDepthMm: 6.2,
        fillerMm3: 4_000,
        fillerG: 4.4,
        atMm: [10, 20, 30],
        isWithinGive: false,
      },
      {
        id: 'A2',
        kind: 'facing-away',
        by: 'rubber',
        areaMm2: 240,
        maxDepthMm: 1.1,
        fillerMm3: 300,
        fillerG: 0.33,
        atMm: [-10, 20, 30],
        isWithinGive: true,
      },
    ],
    spotCount: 2,
    wall: { blockedMm: 0, leastDraftDeg: 2 },
    pulls: null,
    prying: null,
  };
}
