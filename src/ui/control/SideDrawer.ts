import type { PlanResult } from '../../core/PlanResult.ts';
import type { PrintedSide } from '../../core/picture/SidePicture.ts';
import type { Planner } from '../../jobs/protocol.ts';
import { FIGURE_WIDTH_PX } from '../../report/sheet/figureOf.ts';
import type { SessionState, SessionStore } from '../../session/SessionStore.ts';
import { failureOf } from './failureOf.ts';
import { NewestOnly } from './NewestOnly.ts';

/** A side of the mould, drawn, with the address that the page shows it by, which is good until the next ones are drawn. */
export interface DrawnSide {
  readonly picture: PrintedSide;
  readonly href: string;
}

/** Keeps the shop sheet's pictures in step with the newest whole answer, while the sheet is in sight. */
export class SideDrawer {
  private drawn: readonly DrawnSide[] | null = null;
  private asked = '';
  private isDrawing = false;
  /** Revision that the worker had left behind already when its pictures were asked for. */
  private missed = -1;
  private waiting: (() => void)[] = [];
  private readonly drawings: NewestOnly<number, readonly PrintedSide[] | null>;
  private readonly unsubscribe: () => void;

  constructor(
    store: SessionStore,
    planner: Planner,
    private readonly changed: () => void,
  ) {
    this.drawings = new NewestOnly(
      (revision) => draw(planner, revision),
      (sides, revision) => {
        if (sides === null) {
          // The answer of the plan that the worker stands on is on its way, and asks again.
          this.missed = revision;
          this.asked = '';
        }
        this.settle(sides);
        store.dismiss('sides');
      },
      (error) => {
        this.settle(null);
        store.notify(
          'sides',
          'problem',
          `The sheet’s pictures could not be drawn. ${failureOf(error).message}`,
        );
      },
    );
    this.unsubscribe = store.subscribe((state) => this.follow(state));
  }

  /** The four sides, or null while they are not drawn. */
  get sides(): readonly DrawnSide[] | null {
    return this.drawn;
  }

  /** Settles when no drawing is under way, whether it came to anything or not. */
  ready(): Promise<void> {
    if (!this.isDrawing) return Promise.resolve();
    return new Promise((resolve) => this.waiting.push(resolve));
  }

  dispose(): void {
    this.unsubscribe();
    this.forget();
    this.letGo();
  }

  private forget(): void {
    for (const { href } of this.drawn ?? []) URL.revokeObjectURL(href);
    this.drawn = null;
  }

  private follow({ prefs, answer }: SessionState): void {
    // On another stage what is drawn is kept as long as it is right, and nothing new is drawn.
    const key = answer?.isFinal ? seenOf(answer.result) : '';
    if (key === this.asked) return;
    if (this.drawn !== null || this.asked !== '') {
      this.drawings.drop();
      this.asked = '';
      this.settle(null);
    }
    if (key === '' || answer === null || prefs.stage !== 'sheet' || answer.revision === this.missed) return;
    this.asked = key;
    this.isDrawing = true;
    this.drawings.ask(answer.revision);
  }

  private settle(pictures: readonly PrintedSide[] | null): void {
    this.forget();
    this.drawn = pictures?.map((picture) => ({ picture, href: addressOf(picture) })) ?? null;
    this.isDrawing = false;
    this.letGo();
    this.changed();
  }

  private letGo(): void {
    for (const resolve of this.waiting.splice(0)) resolve();
  }
}

/** Null: the worker stands on another plan. */
async function draw(planner: Planner, revision: number): Promise<readonly PrintedSide[] | null> {
  const { pictures, revision: shown } = await planner.sides(FIGURE_WIDTH_PX);
  return shown === revision ? pictures : null;
}

/** Within the page: its policy lets no picture be an address that holds its own bytes, as the sheet's file does. */
function addressOf({ png }: PrintedSide): string {
  return URL.createObjectURL(new Blob([png as Uint8Array<ArrayBuffer>], { type: 'image/png' }));
}

/** Names all that the pictures show of an answer: a coat or a price may change without a new drawing. */
function seenOf({ rubber, pieces, partingLines, probes, filler }: PlanResult): string {
  return JSON.stringify([
    rubber.areaMm2,
    rubber.heightMm,
    pieces.map((piece) => [piece.id, piece.areaMm2]),
    partingLines.map((line) => [line.between, line.lengthMm, line.points.length, line.points[0]]),
    probes.map((probe) => [probe.number, probe.pointMm]),
    filler?.volumeMm3 ?? null,
  ]);
}
