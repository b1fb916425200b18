import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../../src/core/checkpoint.ts';
import { BandGrid } from '../../../src/core/field/BandGrid.ts';
import { makeBandSource } from '../../../src/core/field/BandSource.ts';
import { buildBandField } from '../../../src/core/field/buildBandField.ts';
import { changedTiles } from '../../../src/core/field/changedTiles.ts';
import { sumRegions } from '../../../src/core/field/sumRegions.ts';
import { tabulateBricks } from '../../../src/core/field/tabulateBricks.ts';
import type { Vec3 } from '../../../src/core/mesh/TriMesh.ts';
import { cutSurface } from '../../../src/core/parting/cutSurface.ts';
import { joinAlongSurface } from '../../../src/core/parting/joinAlongSurface.ts';
import { SurfaceContext } from '../../../src/core/parting/SurfaceContext.ts';
import type { CutSurface } from '../../../src/core/parting/types.ts';
import type { AreaBall } from '../../../src/core/plan/ballsOf.ts';
import { seededRandom } from '../../fixtures/seededRandom.ts';
import { octasphere } from '../../fixtures/shapes.ts';
import { preparedFromMesh } from '../parting/preparedFromMesh.ts';

const RADIUS_MM = 40;
// Tiles of some 13 mm across, hardly smaller than bricks of 16.
const FINENESS = 60;
const CELL_MM = 2;
const CONTROLS = 12;

const cp = new Checkpoint();
const scan = preparedFromMesh(octasphere(RADIUS_MM, FINENESS), false);
const surface = new SurfaceContext(scan);
const source = makeBandSource(scan);

/** Points of the ball at a height, each a little off. */
function ring(heightMm: number, offMm: readonly number[]): Vec3[] {
  return offMm.map((off, n) => {
    const turn = (2 * Math.PI * n) / offMm.length;
    const z = heightMm + off;
    const acrossMm = Math.sqrt(RADIUS_MM ** 2 - z * z);
    return [acrossMm * Math.cos(turn), acrossMm * Math.sin(turn), z];
  });
}

const cutAt = (...rings: readonly Vec3[][]): CutSurface =>
  cutSurface(
    surface,
    rings.map((points) => joinAlongSurface(surface, points, true, [])),
  );

const still = (): number[] => new Array<number>(CONTROLS).fill(0);

describe('the regions of a field whose lines move', () => {
  it.each([1, 2, 3])(
    'are those of a field that knows no lines before, to the last bit; seed %i',
    async (seed) => {
      const random = seededRandom(seed);
      const grid = await buildBandField(source, CELL_MM, 9.5, true, cp);
      const tables = await tabulateBricks(grid, source, 0.5, 20, cp);
      const low = still();
      const high = still();
      const clear: AreaBall[] = [];
      for (let move = 0; move < 12; move++) {
        // A point of either line, at times the whole line, a line less, a place kept clear, or the change before taken back.
        const line = random() < 0.5 ? low : high;
        const kind = random();
        const before = line.slice();
        if (kind < 0.7) line[Math.floor(random() * CONTROLS)] = 4 * random() - 2;
        else if (kind < 0.8) for (let n = 0; n < CONTROLS; n++) line[n] = 4 * random() - 2;
        else if (kind < 0.9)
          clear.push({ centreMm: ring(-9, [4 * random()])[0], radiusMm: 2 + 4 * random() });
        const cut = kind > 0.95 ? cutAt(ring(-10, low)) : cutAt(ring(-10, low), ring(12, high));
        const again = await sumRegions(grid, source, tables, cut, clear, cp);
        const unknown: BandGrid = Object.assign(Object.create(BandGrid.prototype), grid);
        expect(again).toEqual(await sumRegions(unknown, source, tables, cut, clear, cp));
        if (random() < 0.2) line.splice(0, CONTROLS, ...before);
      }
    },
  );
});

describe('changed tiles', () => {
  const was = cutAt(ring(-10, still()), ring(12, still()));
  const reachMm = 8 * CELL_MM;

  it('are none when the lines are laid again', () => {
    const now = cutAt(ring(-10, still()), ring(12, still()));
    expect(changedTiles(was, now, reachMm)?.includes(1)).toBe(false);
  });

  it('lie within reach of the legs beside a point that moved, and all tiles there are', () => {
    const off = still();
    off[3] = 3;
    const now = cutAt(ring(-10, still()), ring(12, off));
    const isChanged = changedTiles(was, now, reachMm) as Uint8Array;
    const { tiles } = surface;
    // Point 3 of 12 is at a quarter turn: the legs beside it run from 60 to 120 degrees.
    const legs = ring(12, [0, 0, 0, 0, 0]).map((_, n): Vec3 => {
      const turn = (Math.PI / 180) * (60 + 15 * n);
      const acrossMm = Math.sqrt(RADIUS_MM ** 2 - 12 * 12);
      return [acrossMm * Math.cos(turn), acrossMm * Math.sin(turn), 12];
    });
    for (let tile = 0; tile < tiles.count; tile++) {
      const [x0, y0, z0, x1, y1, z1] = tiles.boxes.subarray(6 * tile, 6 * tile + 6);
      const apartMm = Math.min(
        ...legs.map(([x, y, z]) =>
          Math.hypot(Math.max(x0 - x, 0, x - x1), Math.max(y0 - y, 0, y - y1), Math.max(z0 - z, 0, z - z1)),
        ),
      );
      // A leg's own bend and the room of its buckets are allowed for beyond the reach.
      if (apartMm < 4 * CELL_MM) expect(isChanged[tile]).toBe(1);
      if (apartMm > 4 * reachMm) expect(isChanged[tile]).toBe(0);
    }
    expect(isChanged).toContain(0);
  });

  it('cannot be told between two surfaces', () => {
    const other = new SurfaceContext(preparedFromMesh(octasphere(RADIUS_MM, FINENESS), false));
    const now = cutSurface(other, [joinAlongSurface(other, ring(-10, still()), true, [])]);
    expect(changedTiles(was, now, reachMm)).toBeUndefined();
  });
});
