import type { Checkpoint } from '../checkpoint.ts';
import { type CornerNormals, isSmoothCorner } from './cornerNormals.ts';
import { projectPoints, type SideFrame } from './SideFrame.ts';
import type { SideSubject } from './SidePicture.ts';
import { BARE, type SideRaster } from './SideRaster.ts';

/** Light from the upper left, before the mould, in the picture's axes (right, up, toward the eye); made a unit vector below. */
const LIGHT = [-0.5, 0.6, 0.7] as const;
/** Brightness where no light falls, and what full light adds: matt, with soft shadows that ink still shows on. */
const AMBIENT = 0.46;
const LIT = 0.6;
/** The inner side of a surface, seen where it gapes, is darker. */
const INSIDE_SHARE = 0.55;
/** Triangles between two looks at the clock. */
const BREATH = 4096;

/**
 * Fills `raster` with what is seen of the subject: nearest depth, piece and brightness by pixel centre. Nearer triangles win,
 * in any order. Cancels at its checkpoint. Cost: O(vertices + triangles + pixels covered), about 30 ns a covered pixel.
 */
export async function paintTriangles(
  subject: SideSubject,
  normals: CornerNormals,
  frame: SideFrame,
  raster: SideRaster,
  cp: Checkpoint,
): Promise<void> {
  const { indices, triRegion } = subject;
  const at = projectPoints(subject.positions, frame);
  const vertShade = shadesOf(normals.vert, frame);
  const faceShade = shadesOf(normals.face, frame);
  const { width, height, depthMm, region, shade } = raster;
  const triCount = indices.length / 3;
  for (let t = 0; t < triCount; t++) {
    if (t % BREATH === 0 && cp.due()) await cp.pause(t / triCount);
    const face = 3 * t;
    const i = 3 * indices[face];
    const j = 3 * indices[face + 1];
    const k = 3 * indices[face + 2];
    const ax = at[i];
    const ay = at[i + 1];
    const bx = at[j];
    const by = at[j + 1];
    const cx = at[k];
    const cy = at[k + 1];
    // y runs downward, so that a face turned toward the eye has a negative area here.
    const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    if (area === 0) continue;
    const x0 = Math.max(0, Math.ceil(Math.min(ax, bx, cx) - 0.5));
    const x1 = Math.min(width - 1, Math.floor(Math.max(ax, bx, cx) - 0.5));
    const y0 = Math.max(0, Math.ceil(Math.min(ay, by, cy) - 0.5));
    const y1 = Math.min(height - 1, Math.floor(Math.max(ay, by, cy) - 0.5));
    if (x0 > x1 || y0 > y1) continue;
    const az = at[i + 2];
    const bz = at[j + 2];
    const cz = at[k + 2];
    const side = area < 0 ? 1 : INSIDE_SHARE;
    const sa = side * (isSmoothCorner(normals, face, i) ? vertShade[i / 3] : faceShade[t]);
    const sb = side * (isSmoothCorner(normals, face, j) ? vertShade[j / 3] : faceShade[t]);
    const sc = side * (isSmoothCorner(normals, face, k) ? vertShade[k / 3] : faceShade[t]);
    const piece = triRegion[t] < 0 ? BARE : triRegion[t];
    const inverse = 1 / area;
    for (let y = y0; y <= y1; y++) {
      const py = y + 0.5;
      const row = y * width;
      for (let x = x0; x <= x1; x++) {
        const px = x + 0.5;
        const wb = ((px - ax) * (cy - ay) - (py - ay) * (cx - ax)) * inverse;
        const wc = ((bx - ax) * (py - ay) - (by - ay) * (px - ax)) * inverse;
        const wa = 1 - wb - wc;
        if (wa < 0 || wb < 0 || wc < 0) continue;
        const depth = wa * az + wb * bz + wc * cz;
        const n = row + x;
        if (depth <= depthMm[n]) continue;
        depthMm[n] = depth;
        region[n] = piece;
        shade[n] = wa * sa + wb * sb + wc * sc;
      }
    }
  }
}

/** Brightness of each unit normal in this view. Half of the light wraps round, as on plaster under a window. */
function shadesOf(normals: Float32Array, { axes }: SideFrame): Float32Array {
  const size = Math.hypot(...LIGHT);
  const light = [0, 1, 2].map(
    (k) => (LIGHT[0] * axes.right[k] + LIGHT[1] * axes.up[k] + LIGHT[2] * axes.toEye[k]) / size,
  );
  const [lx, ly, lz] = light;
  const shades = new Float32Array(normals.length / 3);
  for (let n = 0; n < shades.length; n++) {
    const wrapped = 0.5 + 0.5 * (normals[3 * n] * lx + normals[3 * n + 1] * ly + normals[3 * n + 2] * lz);
    shades[n] = AMBIENT + LIT * wrapped * wrapped;
  }
  return shades;
}
