import { contours } from 'd3-contour';
import { coatSteps, innerDistanceMm } from '../assembleResult.ts';
import type { Checkpoint } from '../checkpoint.ts';
import type { BandGrid } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { FieldSampler } from '../field/FieldSampler.ts';
import type { SideOfRegion } from '../field/sideOfPieces.ts';
import { type Box, boundingBox, type Vec3 } from '../mesh/TriMesh.ts';
import type { PlanDocument } from '../plan/PlanDocument.ts';

/** Areas of a plane cut; see `SectionPicture` of the jobs' protocol, which this fills. */
export interface Section {
  readonly origin: Vec3;
  readonly uAxis: Vec3;
  readonly vAxis: Vec3;
  readonly areas: readonly SectionArea[];
}

export interface SectionArea {
  /** -1: the rubber and what is in it; else index of the coat. */
  readonly coat: number;
  /** Index of the piece; -1 for the rubber. */
  readonly piece: number;
  /** Even-odd rings of u v pairs, mm. */
  readonly rings: readonly Float32Array[];
}

/** The winding number that parts inside from outside. */
const INSIDE_ABOVE = 0.5;

/** Longest side of the sampled picture, samples: finer is not seen on a page. */
const MOST_SAMPLES = 640;

/**
 * Coats and rubber where a plane cuts them, as outlines: the field is sampled on the plane at about its own cell and
 * contoured by marching squares (d3-contour). Outlines are good to a fraction of a cell; for looking, not for measuring.
 */
export async function cutSection(
  grid: BandGrid,
  source: BandSource,
  sideOf: SideOfRegion,
  plan: PlanDocument,
  pieceCount: number,
  plane: { readonly normal: Vec3; readonly offsetMm: number },
  cp: Checkpoint,
): Promise<Section> {
  const frame = frameOf(plane);
  const innerMm = innerDistanceMm(plan);
  const steps = coatSteps(plan.coats);
  const outerMm = innerMm + steps[steps.length - 1].toMm;
  const box = boxOnPlane(boundingBox(source.mesh), frame, outerMm + 2 * grid.cellMm);
  const stepMm = Math.max(grid.cellMm * 0.5, Math.max(box.width, box.height) / MOST_SAMPLES);
  const width = Math.ceil(box.width / stepMm) + 1;
  const height = Math.ceil(box.height / stepMm) + 1;
  const phi = new Float64Array(width * height);
  const cells = new Int32Array(width * height);
  const sampler = new FieldSampler(grid, source);
  const farMm = outerMm + 4 * grid.cellMm;

  for (let row = 0; row < height; row++) {
    if (cp.due()) await cp.pause((0.5 * row) / height);
    // Off the band the side cannot change without passing S, so it is asked for once, where the row leaves the band.
    let wasOff = true;
    let isInside = false;
    for (let column = 0; column < width; column++) {
      const u = box.u0 + column * stepMm;
      const v = box.v0 + row * stepMm;
      const x = frame.origin[0] + u * frame.uAxis[0] + v * frame.vAxis[0];
      const y = frame.origin[1] + u * frame.uAxis[1] + v * frame.vAxis[1];
      const z = frame.origin[2] + u * frame.uAxis[2] + v * frame.vAxis[2];
      const at = row * width + column;
      if (source.standsOnBoard && z < 0) {
        phi[at] = farMm;
        cells[at] = -1;
        isInside = false;
        wasOff = true;
        continue;
      }
      const value = sampler.at(x, y, z);
      cells[at] = sampler.cell;
      if (Number.isNaN(value)) {
        if (!wasOff) isInside = source.winding.windingNumber(x, y, z) > INSIDE_ABOVE;
        wasOff = true;
        phi[at] = isInside ? -farMm : farMm;
      } else {
        wasOff = false;
        phi[at] = value;
      }
    }
  }

  const areas: SectionArea[] = [];
  const values = new Array<number>(width * height);
  const trace = (coat: number, piece: number): void => {
    const [shape] = contours().size([width, height]).thresholds([0])(values);
    const rings = shape.coordinates.flat().map((ring) => {
      const flat = new Float32Array(2 * ring.length);
      ring.forEach(([column, row], n) => {
        // d3-contour puts sample (i, j) at (i + 1/2, j + 1/2).
        flat[2 * n] = box.u0 + (column - 0.5) * stepMm;
        flat[2 * n + 1] = box.v0 + (row - 0.5) * stepMm;
      });
      return flat;
    });
    if (rings.length > 0) areas.push({ coat, piece, rings });
  };
  /** Side of a piece between the cells' centres, trilinear: taken cell by cell the parting face would be a stair. */
  const sideAt = (at: number, piece: number): number => {
    const u = box.u0 + (at % width) * stepMm;
    const v = box.v0 + Math.floor(at / width) * stepMm;
    const g = [0, 1, 2].map(
      (k) => (frame.origin[k] + u * frame.uAxis[k] + v * frame.vAxis[k] - grid.origin[k]) / grid.cellMm - 0.5,
    );
    const [i, j, k] = g.map(Math.floor);
    let sum = 0;
    let weights = 0;
    for (let c = 0; c < 8; c++) {
      const cell = grid.cellAt(i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2));
      if (cell < 0 || grid.tri[cell] < 0) continue;
      const weight =
        (c & 1 ? g[0] - i : 1 - g[0] + i) *
        (c & 2 ? g[1] - j : 1 - g[1] + j) *
        (c & 4 ? g[2] - k : 1 - g[2] + k);
      sum += weight * sideOf(cell, piece);
      weights += weight;
    }
    return weights > 0 ? sum / weights : sideOf(cells[at], piece);
  };
  for (let at = 0; at < values.length; at++) values[at] = innerMm - phi[at];
  trace(-1, -1);
  for (let piece = 0; piece < pieceCount; piece++) {
    for (let coat = 0; coat < steps.length; coat++) {
      if (cp.due()) await cp.pause(0.5 + (0.5 * (piece * steps.length + coat)) / (pieceCount * steps.length));
      const from = innerMm + steps[coat].fromMm;
      const to = innerMm + steps[coat].toMm;
      for (let at = 0; at < values.length; at++) {
        const band = Math.min(to - phi[at], phi[at] - from);
        values[at] = cells[at] < 0 || band < -grid.cellMm ? -farMm : Math.min(band, sideAt(at, piece));
      }
      trace(coat, piece);
    }
  }
  return { origin: frame.origin, uAxis: frame.uAxis, vAxis: frame.vAxis, areas };
}

interface Frame {
  readonly origin: Vec3;
  readonly uAxis: Vec3;
  readonly vAxis: Vec3;
}

/** Axes in the plane: v as upright as it can be, u to its right when the normal points at the viewer. */
function frameOf({ normal, offsetMm }: { readonly normal: Vec3; readonly offsetMm: number }): Frame {
  const [x, y, z] = normal;
  const flat = Math.hypot(x, y);
  const uAxis: Vec3 = flat > 1e-9 ? [-y / flat, x / flat, 0] : [1, 0, 0];
  const vAxis: Vec3 = [y * uAxis[2] - z * uAxis[1], z * uAxis[0] - x * uAxis[2], x * uAxis[1] - y * uAxis[0]];
  return { origin: [x * offsetMm, y * offsetMm, z * offsetMm], uAxis, vAxis };
}

/** Where the box, grown by a margin, lies in the plane's axes. */
function boxOnPlane(
  box: Box,
  frame: Frame,
  marginMm: number,
): { u0: number; v0: number; width: number; height: number } {
  let u0 = Infinity;
  let v0 = Infinity;
  let u1 = -Infinity;
  let v1 = -Infinity;
  for (let corner = 0; corner < 8; corner++) {
    const d = [0, 1, 2].map(
      (k) => ((corner >> k) & 1 ? box.max[k] + marginMm : box.min[k] - marginMm) - frame.origin[k],
    );
    const u = d[0] * frame.uAxis[0] + d[1] * frame.uAxis[1] + d[2] * frame.uAxis[2];
    const v = d[0] * frame.vAxis[0] + d[1] * frame.vAxis[1] + d[2] * frame.vAxis[2];
    u0 = Math.min(u0, u);
    u1 = Math.max(u1, u);
    v0 = Math.min(v0, v);
    v1 = Math.max(v1, v);
  }
  return { u0, v0, width: u1 - u0, height: v1 - v0 };
}
