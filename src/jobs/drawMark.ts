import type { ScanMark } from '../core/mesh/PreparedScan.ts';
import type { MarkPicture } from './protocol.ts';

/** A mark of what was found or mended, copied for the graphics card. */
export function drawMark({ code, points, isLoop, tris, edges, faces }: ScanMark): MarkPicture {
  return {
    code,
    points: Float32Array.from(points),
    isLoop,
    ...(tris && { tris: Float32Array.from(tris) }),
    ...(edges && { edges: Float32Array.from(edges) }),
    ...(faces !== undefined && { faces }),
  };
}
