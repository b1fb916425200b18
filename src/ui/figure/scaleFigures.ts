/** A well-known thing that stands beside the mould, so that a wrong unit jumps to the eye. */
export interface ScaleFigure {
  readonly kind: 'thumb' | 'hand' | 'person';
  readonly name: string;
  /** Own round figures: a thumb's two bones, wrist to fingertip of a hand, head to foot of a grown person, mm. */
  readonly heightMm: number;
  /** Width of the outline for its height. */
  readonly widthShare: number;
  /** Outline in a box 0..100 wide times widthShare and 0..100 high, y down, feet or wrist at 100. Own drawing. */
  readonly path: string;
}

/** A thumb held up, from the side of the nail. */
const THUMB: ScaleFigure = {
  kind: 'thumb',
  name: 'a thumb',
  heightMm: 60,
  widthShare: 0.45,
  path:
    'M6 100C4 80 3 62 5 46C6 32 5 22 8 13C12 1 33 1 37 13C40 22 39 32 40 46C42 62 42 80 40 100' +
    'M14 20C15 10 30 10 31 20V32C30 37 15 37 14 32Z',
};

/** A hand held up, flat, fingers a little apart, cut off at the wrist. */
const HAND: ScaleFigure = {
  kind: 'hand',
  name: 'a hand',
  heightMm: 190,
  widthShare: 0.56,
  path:
    'M15 100V82C10 74 6 66 2 57C0 52 6 49 9 53L16 62C17 58 16 50 15 42L11 20C10 13 17 12 18.5 18L22.5 39L22 9' +
    'C22 2 30 2 30 9L31.5 38L35 5C36 -1.5 43.5 -0.5 43 6L40.5 40L46 19C48 12.5 55 15 53 21L47.5 47' +
    'C47 60 47 70 42 82V100',
};

/** A person standing, from the front, arms down. */
const PERSON: ScaleFigure = {
  kind: 'person',
  name: 'a person',
  heightMm: 1700,
  widthShare: 0.3,
  path:
    'M15 0C18.5 0 20 3 20 6.5C20 9.5 18.5 12 17 13V15.5L23 17.5C26 18.5 27 21 27.5 25L30 48C30 51 27 51.5 26.5 48.5' +
    'L23.5 29V50L22 74L21.5 96L24.5 98.5V100H17.5L16.5 75L15 55L13.5 75L12.5 100H5.5V98.5L8.5 96L8 74L6.5 50V29' +
    'L3.5 48.5C3 51.5 0 51 0 48L2.5 25C3 21 4 18.5 7 17.5L13 15.5V13C11.5 12 10 9.5 10 6.5C10 3 11.5 0 15 0Z',
};

/** What stands beside a mould is about as tall as it, from a half to a seventh of it. Own choice, mm. */
const HAND_FROM_MM = 130;
const PERSON_FROM_MM = 1300;

export function chooseScaleFigure(mouldHeightMm: number): ScaleFigure {
  if (mouldHeightMm >= PERSON_FROM_MM) return PERSON;
  return mouldHeightMm >= HAND_FROM_MM ? HAND : THUMB;
}
