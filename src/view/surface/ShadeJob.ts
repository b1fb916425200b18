import type { SurfacePicture } from '../../jobs/protocol.ts';
import { DepthMaps } from './DepthMaps.ts';

/** Waits until the page has been still for this long, so that a value being dragged does not pay for shade each time. */
const REST_MS = 120;

/** Makes the depth maps of one body between frames, newest wins, and hands them over when they are whole. */
export class ShadeJob {
  private timer: ReturnType<typeof setTimeout> | undefined;
  private finished: DepthMaps | null = null;

  constructor(private readonly onReady: (maps: DepthMaps) => void) {}

  /** Maps of the last body that was finished; of use for its successor until that has its own. */
  get maps(): DepthMaps | null {
    return this.finished;
  }

  start(surfaces: readonly SurfacePicture[]): void {
    this.cancel();
    if (surfaces.length === 0) return;
    this.timer = setTimeout(() => {
      const joined = joinSurfaces(surfaces);
      const maps = new DepthMaps(joined.positions, joined.indices);
      const step = (): void => {
        maps.addAxis();
        if (!maps.isComplete) {
          this.timer = setTimeout(step, 0);
          return;
        }
        this.timer = undefined;
        this.finished = maps;
        this.onReady(maps);
      };
      step();
    }, REST_MS);
  }

  cancel(): void {
    clearTimeout(this.timer);
    this.timer = undefined;
  }

  /** Cancels, and forgets the maps. */
  clear(): void {
    this.cancel();
    this.finished = null;
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
