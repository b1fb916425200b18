import { describe, expect, it } from 'vitest';
import { signedVolume } from '../../../../src/core/mesh/measure.ts';
import type { TriMesh, Vec3 } from '../../../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../../../src/core/plan/newPlan.ts';
import type { CastingPlan, PlanDocument } from '../../../../src/core/plan/PlanDocument.ts';
import type { CastingGround } from '../../../../src/core/work/casting/CastingGround.ts';
import { castMould } from '../../../../src/core/work/casting/castMould.ts';
import { box, moved, octasphere, openHalfSphere, turned } from '../../../fixtures/shapes.ts';

const WEIGHT_N_PER_MM3 = 1.6e-6 * 9.80665;

function planOf(casting: Partial<CastingPlan> = {}): PlanDocument {
  const plan = newPlan('a.stl');
  return {
    ...plan,
    casting: {
      densityGPerCm3: 1.6,
      attitude: 'as-built',
      levelMm: 'full',
      wallMm: null,
      rubberMm: 10,
      ...casting,
    },
    supplies: {
      ...plan.supplies,
      fastener: { ...plan.supplies.fastener, workingLoadN: 500, mostSpacingMm: 150 },
    },
  };
}

/** Box without its bottom. */
function openBox(a: number, b: number, c: number): TriMesh {
  const whole = box(a, b, c);
  return { positions: whole.positions, indices: whole.indices.slice(6) };
}

/** Two pieces of a box 400 x 300 x 600, parted in the plane y = 150: triangles by the side to which they look or lie. */
function boxGround(changes: Partial<CastingGround> = {}): CastingGround {
  // Two boxes of half the depth, without the faces that they share.
  const half = openBox(400, 150, 600);
  const keep = (mesh: TriMesh, inner: number): number[] => {
    const out: number[] = [];
    for (let t = 0; t < mesh.indices.length; t += 3) {
      const ys = [0, 1, 2].map((k) => mesh.positions[3 * mesh.indices[t + k] + 1]);
      if (ys.every((y) => y === inner)) continue;
      out.push(mesh.indices[t], mesh.indices[t + 1], mesh.indices[t + 2]);
    }
    return out;
  };
  const back = moved(half, [0, 150, 0]);
  const front = keep(half, 150);
  const rear = keep(back, 150);
  const shift = half.positions.length / 3;
  return {
    positions: Float64Array.from([...half.positions, ...back.positions]),
    indices: Uint32Array.from([...front, ...rear.map((v) => v + shift)]),
    triRegion: Int32Array.from([
      ...front.filter((_, n) => n % 3 === 0).fill(0),
      ...rear.filter((_, n) => n % 3 === 0).fill(1),
    ]),
    pieces: [
      { id: 'A', name: 'Front', pull: [0, -1, 0], dryMassG: 9000 },
      { id: 'B', name: 'Back', pull: [0, 1, 0], dryMassG: 9000 },
    ],
    lines: [
      {
        between: ['A', 'B'],
        points: [
          [0, 150, 0],
          [0, 150, 600],
          [400, 150, 600],
          [400, 150, 0],
        ],
      },
    ],
    thicknessMm: 9.525,
    flange: { widthMm: 39.525, thicknessMm: 12 },
    enclosedMm3: 400 * 300 * 600,
    rubberMm3: 6e6,
    rubberG: 7000,
    strength: { flexuralMPa: 8.3, modulusGPa: 9.86 },
    ...changes,
  };
}

describe('a box of 400 x 300 x 600 parted in the middle (hydrostatics by hand)', () => {
  const result = castMould(planOf(), boxGround());
  if (result === null) throw new Error('no load');

  it('W15 on each side: 1129.7 N, 0.4 m below the top in the middle of the face; the side walls cancel, the lid is at the level', () => {
    expect(result.headMm).toBe(600);
    expect(result.maxPressurePa).toBeCloseTo(9414.384, 6);
    for (const [n, piece] of result.pieces.entries()) {
      expect(piece.openingN).toBeCloseTo(1129.726, 3);
      expect(piece.forceN[1]).toBeCloseTo(n === 0 ? -1129.726 : 1129.726, 3);
      expect(piece.forceN[0]).toBeCloseTo(0, 9);
      expect(piece.forceN[2]).toBeCloseTo(0, 9);
      expect(piece.centreOfPressureMm[0]).toBeCloseTo(200, 6);
      expect(piece.centreOfPressureMm[2]).toBeCloseTo(200, 6);
    }
    expect(result.closingForceN).toBeCloseTo(1129.726, 3);
  });

  it('fasteners hold that force between them, closer at the foot than under the lid, none over its load', () => {
    const loads = result.fastenerPoints.map((point) => point.loadN);
    expect(loads.reduce((sum, load) => sum + load, 0)).toBeCloseTo(1129.726, 3);
    expect(Math.max(...loads)).toBeLessThanOrEqual(500);
    expect(result.fasteners).toBe(result.fastenerPoints.length);
    // 1600 mm of line, none farther than 150 from the next: eleven at least.
    expect(result.fasteners).toBeGreaterThanOrEqual(11);
    const tight = castMould(
      {
        ...planOf(),
        supplies: {
          ...planOf().supplies,
          fastener: { ...planOf().supplies.fastener, workingLoadN: 25, mostSpacingMm: 1000 },
        },
      },
      boxGround(),
    );
    // 45.2 fasteners' worth; the lid's 400 mm carry nothing and add a part of one.
    expect(tight?.fasteners).toBe(46);
    const low = tight?.fastenerPoints.filter((point) => point.pointMm[2] < 150).length ?? 0;
    expect(Math.abs(low / 46 - 0.4375)).toBeLessThan(0.04);
    expect(tight?.fastenerSpacingMm).toBeLessThan(150 / (low / 2 - 1));
  });

  it('leaks first where the line meets the board, under the full head', () => {
    expect(result.seam?.pressurePa).toBeCloseTo(9414.384, 6);
    expect(result.seam?.pointMm[2]).toBe(0);
    expect(result.seam?.pointMm[1]).toBe(150);
  });

  it('stays down by its weight: 25 kg, and no uplift on upright walls under a lid at the level', () => {
    expect(result.holdingWeightN).toBeCloseTo(25 * 9.80665, 9);
    expect(result.upliftN).toBeCloseTo(-25 * 9.80665, 9);
  });

  it('screens the face as a panel of 600 x 400, the flange at its foot, each with its reserve', () => {
    const of = (formula: string) =>
      result.screening.find((row) => row.piece === 'A' && row.formula === formula);
    // a/b 1.5: beta half way from .4530 to .5172 (Roark 11.4, case 1a).
    const supported = of('flat-supported');
    expect(supported?.stressMPa).toBeCloseTo(((0.453 + 0.5172) / 2) * 9.414384e-3 * (400 / 9.525) ** 2, 9);
    expect(supported?.reserve).toBeCloseTo(8.3 / (supported?.stressMPa ?? Number.NaN), 9);
    expect(supported?.from).toMatch(/600 mm × 400 mm/);
    expect(of('flat-clamped')?.stressMPa).toBeCloseTo(
      ((0.4356 + 0.468) / 2) * 9.414384e-3 * (400 / 9.525) ** 2,
      9,
    );
    // Line load where it is highest: the force over the two uprights' pressure triangles, 2 F / (2 H).
    const flange = of('flange');
    expect(flange?.stressMPa).toBeCloseTo((6 * (1129.726 / 600) * 15) / 144, 5);
    // Chord 400, rise 150: radius 400^2/1200 + 75.
    expect(of('membrane')?.stressMPa).toBeCloseTo((9.414384e-3 * (133.3333333 + 75)) / 9.525, 6);
  });

  it('weighs the cast: the inside without the rubber; the filled mould with shell and rubber', () => {
    expect(result.castG).toBeCloseTo((72e6 - 6e6) * 1.6e-3, 6);
    expect(result.filledMouldG).toBeCloseTo((72e6 - 6e6) * 1.6e-3 + 25_000, 6);
  });

  it('turned about the vertical: the same figures', () => {
    const ground = boxGround();
    const spin = (points: Float64Array): Float64Array =>
      turned({ positions: points, indices: new Uint32Array() }, [0, 0, 1], 0.7).positions;
    const spinOne = (p: Vec3): Vec3 => {
      const [x, y, z] = spin(Float64Array.from(p));
      return [x, y, z];
    };
    const other = castMould(planOf(), {
      ...ground,
      positions: spin(ground.positions),
      pieces: ground.pieces.map((piece) => ({ ...piece, pull: spinOne(piece.pull) })),
      lines: ground.lines.map((line) => ({ ...line, points: line.points.map(spinOne) })),
    });
    expect(other?.closingForceN).toBeCloseTo(result.closingForceN, 6);
    expect(other?.fasteners).toBe(result.fasteners);
    expect(other?.castG).toBeCloseTo(result.castG ?? Number.NaN, 3);
    for (const [n, row] of result.screening.entries()) {
      expect(other?.screening[n].formula).toBe(row.formula);
      expect(other?.screening[n].stressMPa).toBeCloseTo(row.stressMPa, 9);
    }
  });
});

describe('attitudes and levels', () => {
  it('foot upward: the lid bears the weight of the fill over it, the foot nothing; the lid’s edge leaks first', () => {
    const result = castMould(planOf({ attitude: 'foot-up' }), boxGround());
    expect(result?.closingForceN).toBeCloseTo(1129.726, 3);
    expect(result?.pieces[0].centreOfPressureMm[2]).toBeGreaterThan(400);
    // Fill of 72 litres rests on the two halves of the lid.
    const down = (result?.pieces ?? []).reduce((sum, piece) => sum + piece.forceN[2], 0);
    expect(down).toBeCloseTo(72e6 * WEIGHT_N_PER_MM3, 6);
    expect(result?.upliftN).toBeCloseTo(-72e6 * WEIGHT_N_PER_MM3 - 25 * 9.80665, 6);
    expect(result?.seam?.pointMm[2]).toBe(600);
  });

  it('filled to half: a quarter of the opening force, half of the cast', () => {
    for (const attitude of ['as-built', 'foot-up'] as const) {
      const result = castMould(planOf({ attitude, levelMm: 300 }), boxGround());
      expect(result?.closingForceN).toBeCloseTo(1129.726 / 4, 3);
      expect(result?.castG).toBeCloseTo(((72e6 - 6e6) * 1.6e-3) / 2, 6);
    }
  });

  it('a level in the spout presses by its height, lifts the lid, and is said', () => {
    const result = castMould(planOf({ levelMm: 800 }), boxGround());
    expect(result?.maxPressurePa).toBeCloseTo(9414.384 * (800 / 600), 6);
    // 200 mm over a lid of 400 x 300.
    expect((result?.upliftN ?? 0) + 25 * 9.80665).toBeCloseTo(200 * 120_000 * WEIGHT_N_PER_MM3, 6);
    expect(result?.castG).toBeCloseTo((72e6 - 6e6) * 1.6e-3, 6);
    expect(result?.says.join(' ')).toMatch(/above the mould/);
    expect(castMould(planOf(), boxGround())?.says.join(' ')).not.toMatch(/above the mould/);
  });

  it('a hollow cast weighs its wall, and never more than the solid one', () => {
    const ground = boxGround({ rubberMm3: 0 });
    // Walls and lid: 2 (400 + 300) 600 + 400 x 300 = 960,000 mm2.
    expect(castMould(planOf({ wallMm: 5 }), ground)?.castG).toBeCloseTo(960_000 * 5 * 1.6e-3, 6);
    expect(castMould(planOf({ wallMm: 500 }), ground)?.castG).toBeCloseTo(72e6 * 1.6e-3, 6);
  });

  it('lies a dome of 0.25 m on its board: W17’s 256.7 N of uplift less what holds it', () => {
    const dome = openHalfSphere(250, 64);
    const result = castMould(planOf(), {
      ...boxGround({ lines: [], enclosedMm3: signedVolume(dome) }),
      positions: dome.positions,
      indices: dome.indices,
      triRegion: new Int32Array(dome.indices.length / 3),
      pieces: [{ id: 'A', name: 'Dome', pull: [0, 0, 1], dryMassG: 9000 }],
      rubberG: 1000,
    });
    // A polyhedron of 64 parts a quarter: 0.1 % of the ball's.
    expect(Math.abs((result?.upliftN ?? 0) + 10 * 9.80665 - 256.7)).toBeLessThan(0.6);
    expect(result?.fasteners).toBe(0);
    // No line, but the foot stands on the board under the full head.
    expect(result?.seam?.pointMm[2]).toBe(0);
    expect(result?.seam?.pressurePa).toBeCloseTo(result?.maxPressurePa ?? Number.NaN, 9);
  });
});

describe('what there is not', () => {
  it('no flange, or one inside the shell: no fasteners, and why', () => {
    const bare = castMould(planOf(), boxGround({ flange: null }));
    expect(bare?.fasteners).toBe(0);
    expect(bare?.fastenerSpacingMm).toBe(0);
    expect(bare?.says.join(' ')).toMatch(/straps/);
    expect(bare?.closingForceN).toBeCloseTo(1129.726, 3);
    expect(bare?.screening.some((row) => row.formula === 'flange')).toBe(false);
    const sunk = castMould(planOf(), boxGround({ flange: { widthMm: 9, thicknessMm: 12 } }));
    expect(sunk?.fasteners).toBe(0);
    expect(sunk?.says.join(' ')).toMatch(/ends inside the shell/);
  });

  it('no strength: stresses without reserve and deflection', () => {
    const rows = castMould(planOf(), boxGround({ strength: null }))?.screening ?? [];
    expect(rows.length).toBe(8);
    for (const row of rows) {
      expect(row.stressMPa).toBeGreaterThan(0);
      expect(row.reserve).toBeNull();
      expect(row.deflectionMm).toBeNull();
    }
  });

  it('a scan that does not close: load, but no masses', () => {
    const result = castMould(planOf(), boxGround({ enclosedMm3: null }));
    expect(result?.closingForceN).toBeCloseTo(1129.726, 3);
    expect(result?.castG).toBeNull();
    expect(result?.filledMouldG).toBeNull();
  });

  it('rubber that takes all of the inside: no cast, and why', () => {
    const full = castMould(planOf(), boxGround({ rubberMm3: 72e6 }));
    expect(full?.castG).toBe(0);
    expect(full?.says.join(' ')).toMatch(/leave nothing to cast/);
    expect(castMould(planOf(), boxGround())?.says.join(' ')).not.toMatch(/leave nothing to cast/);
  });

  it('nothing to press on: null', () => {
    const ground = boxGround();
    expect(castMould(planOf(), { ...ground, triRegion: ground.triRegion.slice().fill(-1) })).toBeNull();
    expect(
      castMould(planOf(), { ...ground, indices: new Uint32Array(), triRegion: new Int32Array() }),
    ).toBeNull();
  });

  it('a body closed underneath has no foot to leak at', () => {
    const ball = moved(octasphere(100, 8), [0, 0, 100]);
    const result = castMould(planOf(), {
      ...boxGround({ lines: [], enclosedMm3: signedVolume(ball), rubberMm3: 1e6 }),
      positions: ball.positions,
      indices: ball.indices,
      triRegion: new Int32Array(ball.indices.length / 3),
      pieces: [{ id: 'A', name: 'Ball', pull: [0, 0, 1], dryMassG: 1000 }],
    });
    expect(result?.seam).toBeNull();
    expect(result?.castG).toBeCloseTo((signedVolume(ball) - 1e6) * 1.6e-3, 6);
  });

  it('gives plain JSON: no infinity, no missing number', () => {
    const result = castMould(planOf({ levelMm: 1 }), boxGround());
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
  });
});
