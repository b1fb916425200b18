import { Color, Vector4 } from 'three';
import { darkerOf } from '../darkerOf.ts';
import type { OverlayFrame } from '../overlay/fatLineMaterial.ts';
import type { ViewTheme } from '../viewTypes.ts';
import { type MapInk, newMapInk } from './MapInk.ts';

/** Lines of depth that the shader has room for. */
export const MOST_LEVELS = 8;
/** A light accent, made for dark paper, is darkened to this share to stand out on plaster. Own choice, by eye. */
const ACCENT_ON_PLASTER = 0.62;
const LIGHT_ACCENT = 0.5;

/** Planes of what is going that the shader has room for: the board and one cut, with some to spare. */
export const MOST_GONE = 4;

/** What the hatching on all bodies shares. */
export interface BodyInk {
  readonly frame: OverlayFrame;
  readonly map: MapInk;
  readonly graphite: { readonly value: Color };
  readonly accent: { readonly value: Color };
  /** 1: what locks is hatched; 0: it is not. */
  readonly areLocksShown: { value: number };
  /** How deep the rubber yields, mm: strokes are set wider where it locks no deeper. */
  readonly giveMm: { value: number };
  /** Depths at which a line is drawn, mm, rising; those beyond `levelCount` are not used. */
  readonly levelsMm: { value: number[] };
  readonly levelCount: { value: number };
  /** What lies where xyz . p > w, in the frame of the body, is drawn as going; those beyond `goneCount` are not used. */
  readonly gonePlanes: { readonly value: Vector4[] };
  readonly goneCount: { value: number };
  readonly paper: { readonly value: Color };
}

export const newBodyInk = (frame: OverlayFrame): BodyInk => ({
  frame,
  map: newMapInk(),
  graphite: { value: new Color() },
  accent: { value: new Color() },
  areLocksShown: { value: 0 },
  giveMm: { value: 0 },
  levelsMm: { value: new Array<number>(MOST_LEVELS).fill(0) },
  levelCount: { value: 0 },
  gonePlanes: { value: Array.from({ length: MOST_GONE }, () => new Vector4(0, 0, 0, 1)) },
  goneCount: { value: 0 },
  paper: { value: new Color() },
});

/** Bodies are of light plaster in both themes, so their ink is dark in both. */
export function setInkTheme(ink: BodyInk, theme: ViewTheme): void {
  ink.paper.value.set(theme.paper);
  ink.graphite.value.set(darkerOf(theme.ink, theme.paper));
  ink.accent.value.set(theme.accent);
  if (ink.accent.value.getHSL({ h: 0, s: 0, l: 0 }).l > LIGHT_ACCENT) {
    ink.accent.value.multiplyScalar(ACCENT_ON_PLASTER);
  }
}
