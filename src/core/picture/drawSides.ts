import type { Checkpoint } from '../checkpoint.ts';
import { type CornerNormals, cornerNormals } from './cornerNormals.ts';
import { Ink } from './Ink.ts';
import { inkEdges } from './inkEdges.ts';
import { isSeen } from './isSeen.ts';
import { paintTriangles } from './paintTriangles.ts';
import { BARE_TINT, PIECE_TINTS } from './pictureInks.ts';
import { placeNames } from './placeNames.ts';
import { projectPoints, type SideFrame } from './SideFrame.ts';
import type { SideLabel, SidePicture, SideSubject } from './SidePicture.ts';
import { clearSideRaster, newSideRaster, type SideRaster } from './SideRaster.ts';
import { AZIMUTH_DEG, axesOf, SIDES, type Side, type SideAxes } from './SideView.ts';
import { strokeLines } from './strokeLines.ts';

/** The eye stands a little above the horizon: the top is seen, and lengths across stay true. */
export const ELEVATION_DEG = 15;
/** Raster pixels along each edge of a picture's pixel: smooth lines at four times the work. */
const FACTOR = 2;
/** Pictures no taller than this many times their width: four of them stand on one page. */
const MOST_TALL = 1.15;
/** Free paper about the mould, share of the width: room for outlines and numbers. */
const MARGIN_SHARE = 0.04;
/** Widths of the outline and of the parting line, shares of the picture's width: 0.35 and 0.6 mm on a picture of 85 mm. */
const OUTLINE_SHARE = 0.35 / 85;
const LINE_SHARE = 0.6 / 85;
/** What lies at most this much behind the surface counts as on it, share of the box's diagonal; lines run on the surface. */
const SLACK_SHARE = 0.006;
/** A step in depth from here on is drawn as a fold, share of the box's diagonal. */
const FOLD_SHARE = 0.02;

/**
 * The mould from its four sides, all to one scale: pieces in their tints, outlines in graphite, parting lines in rust. White paper.
 * Every picture is `widthPx` wide. Cancels at its checkpoint.
 * Cost: four times (vertices + triangles + four times the pixels); 0.9 s of one processor for 68 000 triangles at 720 x 830 pixels.
 * Memory: 52 bytes a pixel of one picture.
 */
export async function drawSides(
  subject: SideSubject,
  widthPx: number,
  cp: Checkpoint,
): Promise<readonly SidePicture[]> {
  const normals = cornerNormals(subject.positions, subject.indices);
  const views = SIDES.map((side) => {
    const axes = axesOf(AZIMUTH_DEG[side], ELEVATION_DEG);
    return { side, axes, box: boxOn(axes, subject.positions) };
  });
  const marginPx = Math.ceil(MARGIN_SHARE * widthPx);
  const widestMm = Math.max(...views.map(({ box }) => box.maxX - box.minX), Number.MIN_VALUE);
  const tallestMm = Math.max(...views.map(({ box }) => box.maxY - box.minY), Number.MIN_VALUE);
  const roomPx = widthPx - 2 * marginPx;
  const tallRoomPx = Math.floor(MOST_TALL * widthPx) - 2 * marginPx;
  const mmPerPx = Math.max(widestMm / roomPx, tallestMm / tallRoomPx);
  const heightPx = Math.ceil(tallestMm / mmPerPx) + 2 * marginPx;
  const raster = newSideRaster(FACTOR * widthPx, FACTOR * heightPx);
  const ink = new Ink(raster.width, raster.height);
  const pictures: SidePicture[] = [];
  for (const [n, { side, axes, box }] of views.entries()) {
    const pxPerMm = FACTOR / mmPerPx;
    const frame: SideFrame = {
      axes,
      pxPerMm,
      originX: (FACTOR * widthPx) / 2 - (pxPerMm * (box.minX + box.maxX)) / 2,
      // All stand on one line, as far from the foot of the picture as from its sides.
      originY: FACTOR * (heightPx - marginPx) + pxPerMm * box.minY,
    };
    const phase = cp.within(n / views.length, (n + 1) / views.length, 'drawing the sheet’s pictures');
    pictures.push(await drawSide(subject, normals, side, frame, raster, ink, phase));
    await phase.pause(1);
  }
  return pictures;
}

async function drawSide(
  subject: SideSubject,
  normals: CornerNormals,
  side: Side,
  frame: SideFrame,
  raster: SideRaster,
  ink: Ink,
  cp: Checkpoint,
): Promise<SidePicture> {
  clearSideRaster(raster);
  await paintTriangles(subject, normals, frame, raster, cp);
  const diagonalMm = diagonalOf(subject.positions);
  const slackMm = SLACK_SHARE * diagonalMm;
  ink.fill(raster, (region) => (region < 0 ? BARE_TINT : PIECE_TINTS[region % PIECE_TINTS.length]));
  inkEdges(raster, ink, (OUTLINE_SHARE * raster.width) / 2, FOLD_SHARE * diagonalMm);
  strokeLines(subject.lines, frame, raster, ink, (LINE_SHARE * raster.width) / 2, slackMm);
  const pieceCount = subject.triRegion.reduce((most, region) => Math.max(most, region + 1), 0);
  return {
    side,
    widthPx: raster.width / FACTOR,
    heightPx: raster.height / FACTOR,
    mmPerPx: FACTOR / frame.pxPerMm,
    rgb: ink.shrink(FACTOR),
    labels: [...placeNames(raster, pieceCount, FACTOR), ...placeProbes()],
  };

  function placeProbes(): SideLabel[] {
    return subject.probes.flatMap(({ number, pointMm }): SideLabel[] => {
      const [x, y, depthMm] = projectPoints(pointMm, frame);
      if (!isSeen(raster, x, y, depthMm, slackMm)) return [];
      return [{ kind: 'probe', number, xPx: x / FACTOR, yPx: y / FACTOR, roomPx: 0 }];
    });
  }
}

/** Box of the points on the picture's plane, mm, y upward. */
function boxOn({ right, up }: SideAxes, positions: Float64Array) {
  let minX = Infinity;
  let maxX = -Infinity;
  let minY = Infinity;
  let maxY = -Infinity;
  for (let i = 0; i < positions.length; i += 3) {
    const x = right[0] * positions[i] + right[1] * positions[i + 1] + right[2] * positions[i + 2];
    const y = up[0] * positions[i] + up[1] * positions[i + 1] + up[2] * positions[i + 2];
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, maxX, minY, maxY };
}

function diagonalOf(positions: Float64Array): number {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    const k = i % 3;
    if (positions[i] < min[k]) min[k] = positions[i];
    if (positions[i] > max[k]) max[k] = positions[i];
  }
  return Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
}
