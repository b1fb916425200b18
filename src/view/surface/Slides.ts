/** Time in which a piece closes 63 % of the way to where it was told to slide: held by the hand, yet without jolts. */
const GLIDE_SECONDS = 0.07;
/** Below this the rest of a slide cannot be seen, mm. */
const STILL_MM = 0.02;

/** How far each piece has slid along its pull, and how far it is to slide, mm. */
export class Slides {
  private allMm = 0;
  private readonly goals: number[] = [];
  private readonly nows: number[] = [];

  /** From now on pieces 0 to `count` - 1 glide; one that is new stands where all do. */
  hold(count: number): void {
    while (this.goals.length < count) {
      this.goals.push(this.allMm);
      this.nows.push(this.allMm);
    }
  }

  /** Every piece, those that come later too. `isAtOnce`: without a glide. */
  setAll(mm: number, isAtOnce: boolean): void {
    this.allMm = mm;
    for (let i = 0; i < this.goals.length; i++) this.setOne(i, mm, isAtOnce);
  }

  setOne(piece: number, mm: number, isAtOnce: boolean): void {
    this.hold(piece + 1);
    this.goals[piece] = mm;
    if (isAtOnce) this.nows[piece] = mm;
  }

  nowMm(piece: number): number {
    return this.nows[piece] ?? this.allMm;
  }

  goalMm(piece: number): number {
    return this.goals[piece] ?? this.allMm;
  }

  get isStill(): boolean {
    return this.goals.every((goal, i) => goal === this.nows[i]);
  }

  advance(elapsedSeconds: number): void {
    const share = 1 - Math.exp(-elapsedSeconds / GLIDE_SECONDS);
    for (let i = 0; i < this.goals.length; i++) {
      const next = this.nows[i] + (this.goals[i] - this.nows[i]) * share;
      this.nows[i] = Math.abs(next - this.goals[i]) < STILL_MM ? this.goals[i] : next;
    }
  }
}
