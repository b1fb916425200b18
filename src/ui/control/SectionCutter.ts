import type { Planner, SectionPicture, SectionPlane } from '../../jobs/protocol.ts';
import type { SessionState, SessionStore } from '../../session/SessionStore.ts';
import { sectionPlane } from '../sectionPlane.ts';
import { failureOf } from './failureOf.ts';
import { NewestOnly } from './NewestOnly.ts';

/** Keeps the picture of the cut in step with the slider, the plane chosen and the newest answer. */
export class SectionCutter {
  private shown: SectionPicture | null = null;
  private asked = '';
  private readonly cuts: NewestOnly<SectionPlane, SectionPicture>;
  private readonly unsubscribe: () => void;

  constructor(
    store: SessionStore,
    planner: Planner,
    private readonly changed: () => void,
  ) {
    this.cuts = new NewestOnly(
      (plane) => planner.section(plane),
      (picture) => {
        this.shown = picture;
        store.dismiss('section');
        changed();
      },
      (error) => {
        this.shown = null;
        store.notify('section', 'problem', `The cut could not be drawn. ${failureOf(error).message}`);
        changed();
      },
    );
    this.unsubscribe = store.subscribe((state) => this.follow(state));
  }

  /** The cut to be shown, or null while there is none. */
  get picture(): SectionPicture | null {
    return this.shown;
  }

  dispose(): void {
    this.unsubscribe();
  }

  private follow({ prefs, answer }: SessionState): void {
    const rubber = answer?.geometry.rubber;
    // Only a settled field has coats to cut; the rough answer may be without.
    const key =
      prefs.isSectionOn && rubber && answer
        ? `${prefs.sectionAxis} ${prefs.sectionAt} ${answer.revision} ${answer.isFinal}`
        : '';
    if (key === this.asked) return;
    this.asked = key;
    if (key === '' || !rubber) {
      this.cuts.drop();
      if (this.shown === null) return;
      this.shown = null;
      this.changed();
      return;
    }
    this.cuts.ask(sectionPlane(prefs.sectionAxis, prefs.sectionAt, rubber.box));
  }
}
