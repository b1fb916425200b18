import type { SpotResult, UndercutResult } from '../../PlanResult.ts';

/** What a triangle of the cut surface is to the pull of its piece; the values of `UndercutStep.triKind`. */
export const KIND_FREE = 0;
export const KIND_AWAY = 1;
export const KIND_BY_RUBBER = 2;
export const KIND_BY_PIECE = 3;
export const KIND_BY_BOARD = 4;

/** The undercut of a piece without masses and without what takes longer. */
export type PieceUndercut = Omit<UndercutResult, 'fillerG' | 'beyondGive' | 'spots' | 'pulls' | 'prying'> & {
  readonly beyondGive: Omit<UndercutResult['beyondGive'], 'fillerG'>;
};

/** A connected undercut of one piece. */
export interface Spot extends Omit<SpotResult, 'fillerG'> {
  readonly region: number;
}

/** In which order the pieces come off, by region. */
export interface RemovalOrder {
  /** First off first; pieces that lock each other, and those that wait for them, last. */
  readonly order: readonly number[];
  /** Pairs [region, by]: `by` has to be off before `region` can move. */
  readonly waits: readonly (readonly [number, number])[];
  /** Regions that hold each other whatever the order. */
  readonly locked: readonly number[];
}

/** The undercuts of all pieces. */
export interface UndercutStep {
  /** By region. */
  readonly pieces: readonly PieceUndercut[];
  /** 3 x triangles of the cut surface: lateral depth at each corner, mm; 0 where the triangle is free. To within a pixel of the map, for looking. */
  readonly cornerDepthMm: Float32Array;
  /** By triangle of the cut surface: KIND_FREE, KIND_AWAY, KIND_BY_RUBBER, KIND_BY_PIECE or KIND_BY_BOARD. */
  readonly triKind: Uint8Array;
  /** By triangle of the cut surface: index into `spots`, or -1. */
  readonly triSpot: Int32Array;
  /** Of all pieces, by region, worst first within one. */
  readonly spots: readonly Spot[];
  readonly removal: RemovalOrder;
}
