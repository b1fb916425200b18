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
    coats: [
      coat('Face', 'face', 0, 1.5, 90_000 * size),
      coat('Build', 'build', 1.5, 4, 150_000 * size),
      coat('Reinforced', 'reinforced', 4, 7.5, 210_000 * size),
      coat('Finish', 'finish', 7.5, 9.5, 120_000 * size),
    ],
    flange: { lengthMm: 900, volumeMm3: 50_000, volumeErrorMm3: 250, massG: 92 },
    undercut: null,
    thin: { minMm: 4.2, areaBelowMm2: size > 1 ? 1_200 : 0 },
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
    batches: null,
    shopping: null,
    schedule: null,
    cost: null,
    casting: null,
    handling: null,
    cautions: [{ step: 'Mixing', text: 'Keep powder out of the air.' }],
    timesMs: { read: 1, repair: 1, field: 1, coats: 1, pieces: 1, undercut: 0, total: 5 },
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
