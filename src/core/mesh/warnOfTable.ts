import { facingUp } from './findBoard.ts';
import { countOf, type NoteBook } from './NoteBook.ts';
import { boundingBox, type TriMesh } from './TriMesh.ts';

/** Level ground: facing up to within acos(0.97) = 14 degrees, within this share of the height above the board. */
const LEVEL = 0.97;
const LOW_SHARE = 0.04;
/** A plinth has some level top too; a table takes at least this share of the footprint. */
const TABLE_COVER = 0.3;
/** Scraps: so many crumbs at least, lying within this share of the height of the board or below it. */
const LEAST_SCRAPS = 3;
const SCRAP_SHARE = 0.1;

/** Warns when the scan seems to hold part of the table it stood on. `crumbTops`: heights of dropped crumbs, mm. O(n). */
export function warnOfTable(mesh: TriMesh, crumbTops: readonly number[], notes: NoteBook): void {
  const box = boundingBox(mesh);
  const height = box.max[2];
  const footprint = (box.max[0] - box.min[0]) * (box.max[1] - box.min[1]);
  const { positions: p, indices } = mesh;
  let level = 0;
  const scratch = new Float64Array(3);
  for (let i = 0; i < indices.length; i += 3) {
    const a = 3 * indices[i];
    const b = 3 * indices[i + 1];
    const c = 3 * indices[i + 2];
    if (Math.max(p[a + 2], p[b + 2], p[c + 2]) > LOW_SHARE * height || facingUp(mesh, i / 3, scratch) < LEVEL)
      continue;
    level += Math.abs((p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[b + 1] - p[a + 1]) * (p[c] - p[a])) / 2;
  }
  const scraps = crumbTops.filter((top) => top <= SCRAP_SHARE * height).length;
  if (level > TABLE_COVER * footprint) {
    notes.warned(
      'table-suspected',
      `Level ground close above the board takes ${Math.round((100 * level) / footprint)} % of the footprint: the table may still be in the scan. Crop it away, or raise the board.`,
    );
  } else if (scraps >= LEAST_SCRAPS) {
    notes.warned(
      'table-suspected',
      `${countOf(scraps, 'loose scrap')} lay about the foot and went as crumbs: the scan was taken on a table. Check the height of the board.`,
    );
  }
}
