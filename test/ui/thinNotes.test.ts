import { describe, expect, it } from 'vitest';
import type { ThinResult, ThinSpotResult } from '../../src/core/PlanResult.ts';
import { thinNotes } from '../../src/ui/figure/thinNotes.ts';

const spot = (id: string, lackMm3: number): ThinSpotResult => ({
  id,
  areaMm2: 100,
  minMm: 4.5,
  pointMm: [1, 2, 3],
  aboveBoardMm: 3,
  side: 'front',
  lackMm3,
  mostLackMm: 1.5,
  massG: 12,
});
const thin = (...spots: ThinSpotResult[]): { thin: ThinResult } => ({
  thin: {
    minMm: 4.5,
    areaBelowMm2: 100,
    levelledByMm: 30,
    levelling: null,
    spots,
    spotCount: spots.length,
    rest: { areaMm2: 0, lackMm3: 0, massG: 0 },
    ridgeCoat: null,
  },
});

describe('thinNotes', () => {
  it('leads out to the worst of each piece first, three a piece and six in all', () => {
    const pieces = [
      thin(spot('A1', 50), spot('A2', 40), spot('A3', 30), spot('A4', 20)),
      thin(spot('B1', 90), spot('B2', 10)),
      thin(spot('C1', 70), spot('C2', 60)),
    ];
    const notes = thinNotes(pieces, 'metric', 6);
    expect(notes.map((note) => note.lines[0].slice(0, 2))).toEqual(['B1', 'C1', 'A1', 'C2', 'A2', 'B2']);
    expect(notes[0]).toEqual({
      spots: [[1, 2, 3]],
      lines: ['B1 thin, 4.5 mm', '12 g of ridge coat'],
    });
    expect(thinNotes(pieces, 'us', 6)[0].lines[0]).toBe('B1 thin, 3/16 in');
  });

  it('leaves out what reads as thick as the least', () => {
    expect(thinNotes([thin(spot('A1', 50))], 'metric', 4.52)).toEqual([]);
    expect(thinNotes([thin(spot('A1', 50))], 'metric', 4.6)).toHaveLength(1);
  });

  it('leaves out what a dab would mend', () => {
    const dab = { ...spot('A1', 50), massG: 0.1 };
    expect(
      thinNotes([thin(dab, spot('A2', 40))], 'metric', 6).map((note) => note.lines[0].slice(0, 2)),
    ).toEqual(['A2']);
  });

  it('says nothing while thin spots are not worked out', () => {
    expect(thinNotes([{ thin: null }], 'metric', 6)).toEqual([]);
  });
});
