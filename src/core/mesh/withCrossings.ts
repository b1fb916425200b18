import { findCrossings } from '../spatial/findCrossings.ts';
import { countOf, NoteBook } from './NoteBook.ts';
import type { PreparedScan } from './PreparedScan.ts';

/**
 * The scan with a warning, and marks, of faces that pass through others; the same one when there are none. For a check: a plan
 * does not need it, since what is inside is told by winding numbers, and it takes long (findCrossings).
 */
export function withCrossings(scan: PreparedScan): PreparedScan {
  const tris = findCrossings(scan.mesh);
  if (tris.length === 0) return scan;
  const notes = new NoteBook();
  notes.warned(
    'faces-crossing',
    `${countOf(tris.length, 'face')} ${tris.length === 1 ? 'passes' : 'pass'} through others: the surface is folded, or parts are pushed into each other. Volumes of coats are measured outside of all; the rubber's area counts what lies hidden inside too.`,
    tris.length,
  );
  notes.markedFaces('faces-crossing', scan.mesh, tris);
  const warnings = [...scan.report.warnings, ...notes.warnings];
  return { ...scan, report: { ...scan.report, warnings }, marks: [...scan.marks, ...notes.marks] };
}
