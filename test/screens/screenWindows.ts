/** A window that pictures are taken in, px, and in which schemes. */
export interface ScreenWindow {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly schemes: readonly ('light' | 'dark')[];
}

/** One of each layout. Dark is the same layout in other inks: a side by side and a one above the other tell it. */
export const SCREEN_WINDOWS: readonly ScreenWindow[] = [
  { name: '1440x900', width: 1440, height: 900, schemes: ['light', 'dark'] },
  { name: '1024x768', width: 1024, height: 768, schemes: ['light'] },
  { name: '820x1180', width: 820, height: 1180, schemes: ['light', 'dark'] },
  { name: '390x844', width: 390, height: 844, schemes: ['light'] },
];
