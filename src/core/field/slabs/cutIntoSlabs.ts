import { triArea } from '../../mesh/measure.ts';
import { BRICK } from '../BandGrid.ts';
import type { BandSource } from '../BandSource.ts';
import { frameBand, reachOf } from '../buildBandField.ts';
import type { FieldOrder } from './FieldOrder.ts';
import type { Slab } from './Slab.ts';

/** What a triangle costs, in cells of the band: its place in the order of space, its samples. Own measurement. */
const CELLS_PER_TRI = 0.4;

/** A field of less work, in cells, is done before a second worker has the surface. Own measurement: some 150 ms. */
const LEAST_WORK = 150_000;

/** Slabs thinner than so many reaches of the band spend too much on what lies between them. */
const LEAST_REACHES = 3;

/** More slabs than this would cost one worker more than they bring to many. */
const MOST_SLABS = 2;

/**
 * The slabs in which a field is made, along the longest axis, where what they share is least, of equal work. Their number
 * hangs on the field alone and never on who will work: the answer is the same to the last bit whether one does or many.
 *
 * O(triangles).
 */
export function cutIntoSlabs(source: BandSource, order: FieldOrder): Slab[] {
  const { cells } = frameBand(source, order.cellMm, order.bandMm);
  const axis = cells[2] > Math.max(cells[0], cells[1]) ? 2 : cells[0] >= cells[1] ? 0 : 1;
  const layers = Math.ceil(cells[axis] / BRICK);
  const reachBricks = reachOf(order.cellMm, order.bandMm) / order.cellMm / BRICK;
  const count = Math.min(MOST_SLABS, Math.floor(layers / (LEAST_REACHES * reachBricks)));
  const work = count > 1 ? workOfLayers(source, order, axis, layers) : new Float64Array(layers);
  const whole = work.reduce((sum, one) => sum + one, 0);
  if (whole < LEAST_WORK) return [{ axis, fromBrick: 0, toBrick: layers }];
  const slabs: Slab[] = [];
  let fromBrick = 0;
  let done = 0;
  for (let layer = 0; layer < layers; layer++) {
    done += work[layer];
    const wanted = (whole * (slabs.length + 1)) / count;
    // The layer in which the share is reached goes to the side that it leaves nearer to its share.
    if (slabs.length === count - 1 || done < wanted) continue;
    const toBrick = done - wanted > work[layer] / 2 ? layer : layer + 1;
    slabs.push({ axis, fromBrick, toBrick });
    fromBrick = toBrick;
  }
  slabs.push({ axis, fromBrick, toBrick: layers });
  return slabs.filter((slab) => slab.toBrick > slab.fromBrick);
}

/** Cells' worth of work in each layer of bricks; a triangle counts where its first corner lies. */
function workOfLayers(source: BandSource, order: FieldOrder, axis: 0 | 1 | 2, layers: number): Float64Array {
  const { mesh, isSurface } = source;
  const { positions: p, indices } = mesh;
  const { cellMm, bandMm } = order;
  const { origin } = frameBand(source, cellMm, bandMm);
  const cellsPerMm2 = (bandMm + 2 * cellMm) / cellMm ** 3;
  const work = new Float64Array(layers);
  const scratch = new Float64Array(3);
  for (let t = 0; t < isSurface.length; t++) {
    if (isSurface[t] === 0) continue;
    const areaMm2 = triArea(mesh, t, scratch);
    const first = p[3 * indices[3 * t] + axis];
    work[Math.max(0, Math.floor((first - origin[axis]) / (cellMm * BRICK)))] +=
      areaMm2 * cellsPerMm2 + CELLS_PER_TRI;
  }
  return work;
}
