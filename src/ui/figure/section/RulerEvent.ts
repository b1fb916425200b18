/** One end of the ruler was moved: by the pointer to a place of the picture, or by keys along it. Heard by the figure. */
export class RulerEvent extends Event {
  static readonly type = 'scute-ruler';
  constructor(
    readonly end: 0 | 1,
    /** CSS pixels from the picture's upper left corner. */
    readonly x: number,
    readonly y: number,
    /** By how many steps of the units in use, right and up; null: to the place. */
    readonly steps: readonly [number, number] | null = null,
  ) {
    super(RulerEvent.type, { bubbles: true, composed: true });
  }
}
