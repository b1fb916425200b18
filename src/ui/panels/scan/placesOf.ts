import type { Vec3 } from '../../../core/mesh/TriMesh.ts';
import type { MarkPicture } from '../../../jobs/protocol.ts';

/** Where the findings with this code lie, board frame, mm: largest first as they were marked; a loop by its middle. */
export function placesOf(marks: readonly MarkPicture[], code: string): Vec3[] {
  return marks
    .filter((mark) => mark.code === code)
    .flatMap(({ points, isLoop }) => (isLoop ? [middleOf(points)] : [...eachPoint(points)]));
}

/** Faces of these findings that are too many to be drawn: how many there are, and how many are drawn. Null: all are. */
export function facesLeftOut(
  marks: readonly MarkPicture[],
  code: string,
): { readonly drawn: number; readonly faces: number } | null {
  let drawn = 0;
  let faces = 0;
  for (const mark of marks) {
    if (mark.code !== code || mark.tris === undefined) continue;
    drawn += mark.tris.length / 9;
    faces += mark.faces ?? mark.tris.length / 9;
  }
  return drawn < faces ? { drawn, faces } : null;
}

function middleOf(points: Float32Array): Vec3 {
  // A loop ends where it began: that point counts once.
  const end = points.length - 3;
  const isClosed = end > 0 && [0, 1, 2].every((k) => points[k] === points[end + k]);
  const length = isClosed ? end : points.length;
  const sum: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < length; i += 3) for (let k = 0; k < 3; k++) sum[k] += points[i + k];
  return [(3 * sum[0]) / length, (3 * sum[1]) / length, (3 * sum[2]) / length];
}

function* eachPoint(points: Float32Array): Iterable<Vec3> {
  for (let i = 0; i < points.length; i += 3) yield [points[i], points[i + 1], points[i + 2]];
}
