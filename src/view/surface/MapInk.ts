import { Color, Vector2 } from 'three';
import type { MapLook } from '../viewTypes.ts';
import { MOST_BORDERS } from './mapShader.ts';

/** Uniforms of the map, shared by all bodies that bear one. */
export interface MapInk {
  readonly isMapShown: { value: number };
  readonly mapBorders: { readonly value: number[] };
  readonly mapBorderCount: { value: number };
  readonly mapColours: { readonly value: Color[] };
  /** The value judged, and whether there is one. */
  readonly mapJudged: { readonly value: Vector2 };
  /** Where hatching begins, and on which side: -1 below, 1 above, 0 nowhere. */
  readonly mapHatch: { readonly value: Vector2 };
}

export const newMapInk = (): MapInk => ({
  isMapShown: { value: 0 },
  mapBorders: { value: new Array<number>(MOST_BORDERS).fill(0) },
  mapBorderCount: { value: 0 },
  mapColours: { value: Array.from({ length: MOST_BORDERS + 1 }, () => new Color()) },
  mapJudged: { value: new Vector2() },
  mapHatch: { value: new Vector2() },
});

/** Fills the uniforms from a look; null: no map is shown. */
export function setMapInk(ink: MapInk, look: MapLook | null): void {
  ink.isMapShown.value = look === null ? 0 : 1;
  if (look === null) return;
  const borders = look.borders.slice(0, MOST_BORDERS);
  ink.mapBorderCount.value = borders.length;
  ink.mapBorders.value.fill(0);
  borders.forEach((value, i) => {
    ink.mapBorders.value[i] = value;
  });
  ink.mapColours.value.forEach((colour, i) => {
    colour.set(look.colours[Math.min(i, look.colours.length - 1)]);
  });
  ink.mapJudged.value.set(look.judged ?? 0, look.judged === null ? 0 : 1);
  ink.mapHatch.value.set(look.hatch?.at ?? 0, look.hatch === null ? 0 : look.hatch.side === 'below' ? -1 : 1);
}
