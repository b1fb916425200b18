import { WindingTree } from '../spatial/WindingTree.ts';
import { keepTris } from './keepTris.ts';
import type { NoteBook } from './NoteBook.ts';
import type { TriMesh } from './TriMesh.ts';

/** Faces asked: enough to tell two in a hundred from none. */
const SAMPLES = 2000;
/** How far off a face is asked, share of the root of twice its area: close, but clear of rounding. */
const LIFT_SHARE = 0.05;
/** A winding number within this of 0 outside and of 1 inside is clear (own choice: dipoles of the tree are off by up to 0.01). */
const CLEAR = 0.2;
/** Share of unclear faces from which the user is told; start value of the same notes. */
const MOST_UNCLEAR = 0.02;

/**
 * Warns when the inside cannot be told from the outside on more than two in a hundred faces: the winding number (with the
 * mesh mirrored in the board) is asked close to either side of sampled faces off the board. For scans with open holes;
 * closed surfaces are clear. Faces whose `isOuter` is 0 are left out of all: parts inside, which
 * have been told of; faces after its end are outer. O(n log n) for the tree, about 20 ms for the questions.
 */
export function warnOfSides(
  mesh: TriMesh,
  standsOnBoard: boolean,
  isOuter: Uint8Array | undefined,
  notes: NoteBook,
): void {
  const { positions: p, indices } = mesh;
  const isOff = new Uint8Array(indices.length / 3);
  for (let t = 0; t < isOff.length; t++) {
    const i = 3 * t;
    const highest = Math.max(p[3 * indices[i] + 2], p[3 * indices[i + 1] + 2], p[3 * indices[i + 2] + 2]);
    isOff[t] = (standsOnBoard && highest === 0) || isOuter?.[t] === 0 ? 0 : 1;
  }
  const surface = keepTris(indices, isOff);
  const tree = new WindingTree({ positions: p, indices: surface }, { mirrorInBoard: standsOnBoard });
  const step = 3 * Math.max(1, Math.floor(surface.length / 3 / SAMPLES));
  let asked = 0;
  let unclear = 0;
  const unclearAt: number[] = [];
  for (let i = 0; i < surface.length; i += step) {
    const a = 3 * surface[i];
    const b = 3 * surface[i + 1];
    const c = 3 * surface[i + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(length > 0)) continue;
    const lift = (LIFT_SHARE * Math.sqrt(length)) / length;
    const x = (p[a] + p[b] + p[c]) / 3;
    const y = (p[a + 1] + p[b + 1] + p[c + 1]) / 3;
    const z = (p[a + 2] + p[b + 2] + p[c + 2]) / 3;
    const outside = tree.windingNumber(x + lift * nx, y + lift * ny, z + lift * nz);
    const inside = tree.windingNumber(x - lift * nx, y - lift * ny, z - lift * nz);
    asked++;
    if (Math.abs(outside) > CLEAR || Math.abs(inside - 1) > CLEAR) {
      unclear++;
      unclearAt.push(x, y, z);
    }
  }
  if (!(unclear > MOST_UNCLEAR * asked)) return;
  notes.markedSpots('sides-uncertain', Float64Array.from(unclearAt));
  notes.warned(
    'sides-uncertain',
    `On ${Math.round((100 * unclear) / asked)} % of the surface the holes leave it uncertain what is inside. Fill or crop the holes before trusting a volume.`,
  );
}
