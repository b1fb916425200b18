import { workInSlices } from '../../view/surface/workInSlices.ts';
import type { LevelPlace } from './levelPlaces.ts';

/** Finds places for numbers on pictures between frames, and keeps them as long as the pictures live. */
export class PlaceFinder {
  private readonly known = new WeakMap<
    object,
    { readonly key: string; readonly places: readonly LevelPlace[] }
  >();

  /** @param onFound when there are places that were asked for in vain before */
  constructor(private readonly onFound: () => void) {}

  /**
   * The places on a picture; none as long as they are sought.
   * @param key names what else they are found by
   */
  places(
    picture: object,
    key: string,
    seek: () => Generator<void, readonly LevelPlace[]>,
  ): readonly LevelPlace[] {
    const kept = this.known.get(picture);
    if (kept?.key === key) return kept.places;
    this.known.set(picture, { key, places: [] });
    workInSlices(this.find(picture, key, seek()));
    return [];
  }

  private *find(picture: object, key: string, work: Generator<void, readonly LevelPlace[]>): Generator<void> {
    const places = yield* work;
    if (this.known.get(picture)?.key !== key) return;
    this.known.set(picture, { key, places });
    this.onFound();
  }
}
