import type { Stage } from '../../session/ViewPrefs.ts';

/** Parts of the page that no first minute needs: fetched when their stage is opened, or when the page has nothing else to do. */
const PARTS: Readonly<Partial<Record<Stage, () => Promise<unknown>>>> = {
  mix: () => import('../panels/MixPanel.ts'),
  sheet: () => Promise.all([import('../panels/SheetPanel.ts'), import('../ShopSheet.ts')]),
};

/** Long enough after the first answer for the eye to have it, ms. */
const AHEAD_MS = 1500;

/**
 * Fetches the elements of the later stages, so that the page's first download stays small. Elements that are rendered before their
 * part has come keep what they are given and show it once they are defined. `onTrouble` is called when a part does not come.
 */
export class StageLoader {
  private stage: Stage | null = null;
  private isAhead = false;

  constructor(private readonly onTrouble: () => void) {}

  /** Called as often as one likes; what did not come is asked for again when the stage is opened once more. */
  async open(stage: Stage): Promise<void> {
    if (stage === this.stage) return;
    this.stage = stage;
    try {
      await PARTS[stage]?.();
    } catch {
      this.onTrouble();
    }
  }

  /** All parts, once, in a quiet moment; trouble is left for the time when they are wanted. */
  loadAhead(): void {
    if (this.isAhead) return;
    this.isAhead = true;
    setTimeout(() => {
      for (const fetchPart of Object.values(PARTS)) fetchPart().catch(() => {});
    }, AHEAD_MS);
  }
}
