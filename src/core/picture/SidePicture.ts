import type { Side } from './SideView.ts';

/** What is drawn: the surface that the shell is laid on, in its pieces. Board frame, mm. */
export interface SideSubject {
  /** n x 3. */
  readonly positions: Float64Array;
  /** m x 3, outside counter-clockwise. */
  readonly indices: Uint32Array;
  /** By triangle the number of its piece; below 0: none, drawn bare. */
  readonly triRegion: Int32Array;
  /** Parting lines along the surface, each k x 3. */
  readonly lines: readonly Float64Array[];
  /** Spots to be numbered. */
  readonly probes: readonly {
    readonly number: number;
    readonly pointMm: readonly [number, number, number];
  }[];
}

/** A drawn side: red green blue, eight bits each, rows from the top; and where words may stand. */
export interface SidePicture {
  readonly side: Side;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Millimetres across one pixel; the same on all sides. True across; upright lengths are shortened by the eye's height. */
  readonly mmPerPx: number;
  readonly rgb: Uint8Array;
  readonly labels: readonly SideLabel[];
}

/** The same, fit to be sent and kept: its pixels as the bytes of a PNG file. */
export interface PrintedSide extends Omit<SidePicture, 'rgb'> {
  readonly png: Uint8Array;
}

export interface SideLabel {
  /** 'probe': at the spot itself. 'piece': where the piece's seen part is widest. */
  readonly kind: 'probe' | 'piece';
  /** The probe's own number, or the number of the piece from 0. */
  readonly number: number;
  readonly xPx: number;
  readonly yPx: number;
  /** How far it is to the nearest other piece or the edge of the mould, px: what the word may take without leaving it. 0 for probes. */
  readonly roomPx: number;
}
