import type { SurfacePicture } from '../../jobs/protocol.ts';
import { DepthMaps } from './DepthMaps.ts';
import { workInSlices } from './workInSlices.ts';

/** Waits until the page has been still for this long, so that a value being dragged does not pay for shade each time. */
const REST_MS = 120;

/** What takes its shade from a job's maps. */
interface Shaded {
  shadeBy(maps: DepthMaps): Generator<void>;
}

/** Makes the depth maps of one body between frames, newest wins, and shades by them what belongs to it. */
export class ShadeJob {
  private timer: ReturnType<typeof setTimeout> | undefined;
  private stopMaps: (() => void) | null = null;
  private readonly stops = new Set<() => void>();
  private finished: DepthMaps | null = null;

  /** @param parts what is to be shaded when new maps are there */
  constructor(
    private readonly parts: () => readonly Shaded[],
    private readonly onShaded: () => void,
  ) {}

  start(surfaces: readonly SurfacePicture[]): void {
    this.cancel();
    if (surfaces.length === 0) return;
    this.timer = setTimeout(() => {
      this.stopMaps = workInSlices(this.makeMaps(surfaces));
    }, REST_MS);
  }

  /** Shades a new part by the maps that there are: those of the former body are near enough until the new one's are made. */
  shade(part: Shaded): void {
    const { finished } = this;
    if (finished === null) return;
    const stop = workInSlices(part.shadeBy(finished), () => {
      this.stops.delete(stop);
      this.onShaded();
    });
    this.stops.add(stop);
  }

  cancel(): void {
    clearTimeout(this.timer);
    this.timer = undefined;
    this.stopMaps?.();
    this.stopMaps = null;
  }

  /** Cancels, and forgets the maps. */
  clear(): void {
    this.cancel();
    for (const stop of this.stops) stop();
    this.stops.clear();
    this.finished = null;
  }

  private *makeMaps(surfaces: readonly SurfacePicture[]): Generator<void> {
    const joined = joinSurfaces(surfaces);
    yield;
    const maps = new DepthMaps(joined.positions, joined.indices);
    yield;
    while (!maps.isComplete) yield* maps.addAxis();
    this.finished = maps;
    for (const part of this.parts()) yield* part.shadeBy(maps);
    this.onShaded();
  }
}

function joinSurfaces(surfaces: readonly SurfacePicture[]): SurfacePicture {
  if (surfaces.length === 1) return surfaces[0];
  const positions = new Float32Array(surfaces.reduce((sum, s) => sum + s.positions.length, 0));
  const indices = new Uint32Array(surfaces.reduce((sum, s) => sum + s.indices.length, 0));
  let p = 0;
  let i = 0;
  for (const surface of surfaces) {
    positions.set(surface.positions, p);
    const base = p / 3;
    for (let k = 0; k < surface.indices.length; k++) indices[i + k] = surface.indices[k] + base;
    p += surface.positions.length;
    i += surface.indices.length;
  }
  return { positions, indices };
}
