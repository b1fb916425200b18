import type { Ink } from './Ink.ts';
import { isSeen } from './isSeen.ts';
import { RUST } from './pictureInks.ts';
import { projectPoints, type SideFrame } from './SideFrame.ts';
import type { SideRaster } from './SideRaster.ts';

/** What is hidden shines through faintly, in dashes this many radii long with gaps as long. */
const HIDDEN_DASH_RADII = 4;
const HIDDEN_COVER = 0.5;
const HIDDEN_RADIUS_SHARE = 0.5;
/** Distance between dots of a stroke, radii: close enough for an even edge. */
const STEP_RADII = 0.4;

/** Draws the parting lines: whole where they are seen, faint dashes where the mould hides them. Cost: O(length in pixels). */
export function strokeLines(
  lines: readonly Float64Array[],
  frame: SideFrame,
  raster: SideRaster,
  ink: Ink,
  radius: number,
  slackMm: number,
): void {
  const projected = lines.map((line) => projectPoints(line, frame));
  for (const isHiddenTurn of [true, false]) {
    for (const line of projected) strokeLine(line, isHiddenTurn);
  }

  function strokeLine(line: Float64Array, isHiddenTurn: boolean): void {
    const step = STEP_RADII * radius;
    let run = 0;
    for (let i = 3; i < line.length; i += 3) {
      const length = Math.hypot(line[i] - line[i - 3], line[i + 1] - line[i - 2]);
      const count = Math.max(1, Math.ceil(length / step));
      for (let n = 0; n < count; n++) {
        const share = n / count;
        const x = line[i - 3] + share * (line[i] - line[i - 3]);
        const y = line[i - 2] + share * (line[i + 1] - line[i - 2]);
        const depth = line[i - 1] + share * (line[i + 2] - line[i - 1]);
        const along = run + share * length;
        if (isSeen(raster, x, y, depth, slackMm) === isHiddenTurn) continue;
        if (!isHiddenTurn) ink.dot(x, y, radius, RUST, 1);
        else if (Math.floor(along / (HIDDEN_DASH_RADII * radius)) % 2 === 0) {
          ink.dot(x, y, radius * HIDDEN_RADIUS_SHARE, RUST, HIDDEN_COVER);
        }
      }
      run += length;
    }
  }
}
