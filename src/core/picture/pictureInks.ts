/** Red, green, blue, 0..255. */
export type Rgb = readonly [number, number, number];

/**
 * Tints of the pieces in daylight: those of the page (`--piece-0` and on, light), so that the sheet and the screen speak
 * of the same piece in the same tint. They tell apart in lightness as well as in hue.
 */
export const PIECE_TINTS: readonly Rgb[] = [
  [0xdf, 0xcd, 0xae],
  [0x93, 0xa2, 0xae],
  [0xb4, 0xc0, 0xa6],
  [0x6d, 0x64, 0x72],
  [0xef, 0xe9, 0xdc],
  [0xa0, 0x7f, 0x73],
];

/** Surface that belongs to no piece: the page's `--clay`. */
export const BARE_TINT: Rgb = [0xcf, 0xc3, 0xae];
/** Outlines: the page's `--line`. */
export const GRAPHITE: Rgb = [0x22, 0x26, 0x2a];
/** Parting lines: the page's `--accent`. */
export const RUST: Rgb = [0xa5, 0x40, 0x1f];
export const PAPER: Rgb = [0xff, 0xff, 0xff];
