import { describe, expect, it } from 'vitest';
import { signedVolume } from '../../src/core/mesh/measure.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { centreOfCast } from '../../src/core/work/casting/centreOfCast.ts';
import { centresOfSurface } from '../../src/core/work/casting/centresOfSurface.ts';
import { pressMould } from '../../src/core/work/casting/pressMould.ts';
import { planShape } from '../fixtures/planShape.ts';
import { box, moved, octasphere, openHalfSphere, turned } from '../fixtures/shapes.ts';

const all = (mesh: TriMesh): Int32Array => new Int32Array(mesh.indices.length / 3);
const centres = (mesh: TriMesh) => centresOfSurface(mesh.positions, mesh.indices, all(mesh), 1);

/** W27 of the trade page; the centroids of hemispheres stand in any table of them (Beer & Johnston, Statics; from memory). */
describe('W27: centres of mass of half a ball over its rim', () => {
  it('thin: R/2, solid: 3R/8, of a polyhedron of 96 parts a quarter to a part in a thousand', () => {
    const dome = openHalfSphere(100, 96);
    const { whole, inside } = centres(dome);
    expect(Math.abs((whole?.[2] ?? 0) / 50 - 1)).toBeLessThan(1e-3);
    expect(Math.abs((inside?.[2] ?? 0) / 37.5 - 1)).toBeLessThan(1e-3);
    for (const centre of [whole, inside]) {
      expect(centre?.[0]).toBeCloseTo(0, 9);
      expect(centre?.[1]).toBeCloseTo(0, 9);
    }
  });

  it('between 100 and 109.525 mm: 52.453 mm, as the difference of two solids and as the planned shell’s own', async () => {
    const [inner, outer] = [openHalfSphere(100, 96), openHalfSphere(109.525, 96)];
    const [a, b] = [signedVolume(inner), signedVolume(outer)];
    const z = ((centres(outer).inside?.[2] ?? 0) * b - (centres(inner).inside?.[2] ?? 0) * a) / (b - a);
    expect(z).toBeCloseTo(52.453, 1);
    const result = await planShape(
      openHalfSphere(100, 32),
      { coatsMm: [9.525], scan: { board: 0 } },
      { resolution: 4 },
    );
    // The field's cells round the rim: a tenth of a cell.
    expect(Math.abs(result.pieces[0].centreOfMassMm[2] - 52.453)).toBeLessThan(0.4);
    expect(Math.abs(result.pieces[0].dryCentreOfMassMm[2] - 52.453)).toBeLessThan(0.4);
  });
});

describe('centres of any body', () => {
  it('a turned box has both in its middle, wherever it stands', () => {
    const mesh = moved(turned(box(200, 150, 100), [1, 2, 3], 0.7), [30, -40, 500]);
    const middle = [0, 0, 0];
    for (let i = 0; i < mesh.positions.length; i++) middle[i % 3] += mesh.positions[i] / 8;
    const { whole, inside } = centres(mesh);
    for (let k = 0; k < 3; k++) {
      expect(whole?.[k]).toBeCloseTo(middle[k], 9);
      expect(inside?.[k]).toBeCloseTo(middle[k], 7);
    }
  });

  it('keeps regions apart, and has none for one without area', () => {
    const mesh = box(200, 150, 100);
    const triRegion = Int32Array.from({ length: 12 }, (_, t) => (t < 2 ? 0 : t < 4 ? 1 : -1));
    const { regions, whole } = centresOfSurface(mesh.positions, mesh.indices, triRegion, 3);
    expect(regions[0]?.[2]).toBeCloseTo(0, 12);
    expect(regions[1]?.[2]).toBeCloseTo(100, 12);
    expect(regions[1]?.[0]).toBeCloseTo(100, 12);
    expect(regions[2]).toBeNull();
    expect(whole?.[2]).toBeCloseTo(50, 12);
  });

  it('of the cast: the inside when solid and full, the face when hollow, not known when filled in part', () => {
    const ball = moved(octasphere(100, 8), [5, 6, 100]);
    const casting = {
      densityGPerCm3: 1.6,
      attitude: 'foot-up',
      levelMm: 'full',
      wallMm: null,
      rubberMm: 10,
    } as const;
    const of = (changes: object) => {
      const plan = { ...casting, ...changes };
      const pressure = pressMould(plan, { ...ball, triRegion: all(ball), pieces: [{ pull: [0, 0, 1] }] });
      if (pressure === null) throw new Error('nothing pressed');
      return centreOfCast(plan, pressure);
    };
    expect(of({})?.[0]).toBeCloseTo(5, 9);
    expect(of({})?.[2]).toBeCloseTo(100, 9);
    expect(of({ wallMm: 5 })?.[1]).toBeCloseTo(6, 9);
    expect(of({ levelMm: 60 })).toBeNull();
    expect(of({ levelMm: 200 })?.[2]).toBeCloseTo(100, 9);
  });
});
