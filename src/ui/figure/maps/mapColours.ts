import { interpolateCividis, interpolatePuOr } from 'd3-scale-chromatic';
import type { MapKind } from '../../../session/mapPrefs.ts';
import type { MapBands } from './mapBands.ts';

/** The ends of a colour map are left out: the darkest hides what is drawn on it, the lightest is the paper's. Own choice, by eye. */
const FROM_SHARE = 0.1;
const TO_SHARE = 0.88;
/** Upper ends of the fixed bands of draft, degrees: a band keeps its colour whichever of them occur. */
const DRAFT_ENDS_DEG = [-30, -10, -3, 0, 3, 10, 30, Infinity];

/**
 * One colour a band, sRGB hex, from the least values to the greatest. Dark is where there is something to do: thin, deep, or
 * little draft. Cividis (Nunez, Anderton and Renslow 2018), even in lightness and the same to most kinds of colour sight;
 * distance, which has two sides, in Brewer's purple and orange (ColorBrewer 2.0), safe for colour-blind eyes by its authors.
 */
export function mapColours(of: MapKind, { least, most, borders }: MapBands, isTyped: boolean): string[] {
  const ends = [least, ...borders, most];
  return ends.slice(1).map((end, i) => {
    const middle = (ends[i] + end) / 2;
    if (of === 'distance') return toHex(interpolatePuOr(share(middle, least, most)));
    if (of === 'undercut' && !isTyped)
      return toHex(interpolateCividis(within(1 - i / Math.max(1, borders.length))));
    if (of === 'draft' && !isTyped) {
      const step = DRAFT_ENDS_DEG.findIndex((endDeg) => middle < endDeg);
      return toHex(interpolateCividis(within(step / (DRAFT_ENDS_DEG.length - 1))));
    }
    const at = share(middle, least, most);
    return toHex(interpolateCividis(within(of === 'undercut' ? 1 - at : at)));
  });
}

function share(value: number, least: number, most: number): number {
  return most > least ? (value - least) / (most - least) : 0.5;
}

function within(at: number): number {
  return FROM_SHARE + (TO_SHARE - FROM_SHARE) * Math.min(1, Math.max(0, at));
}

/** "rgb(1, 2, 3)" or "#abc" alike as #rrggbb. */
function toHex(colour: string): string {
  if (colour.startsWith('#')) return colour;
  const parts = colour.match(/[\d.]+/g) ?? [];
  return `#${parts
    .slice(0, 3)
    .map((p) => Math.round(Number(p)).toString(16).padStart(2, '0'))
    .join('')}`;
}
