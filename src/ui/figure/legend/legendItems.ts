import { formatLength } from '../../../core/units.ts';
import type { SessionState } from '../../../session/SessionStore.ts';
import { sayPiece } from '../../sayPiece.ts';
import { sayLevels } from '../depthLevels.ts';
import type { FigureSight } from '../FigureSight.ts';
import { LOCK_WORDS, lockKinds } from '../lockKinds.ts';
import type { MapModel } from '../maps/mapModel.ts';
import type { Sketch } from '../sketch/Sketch.ts';
import { foundSketch } from './foundSketch.ts';
import { foundWords } from './foundWords.ts';
import {
  cutRubberSwatch,
  depthSwatch,
  fillerSwatch,
  giveSwatch,
  givingSwatch,
  hatchSwatch,
  judgedSwatch,
  lineSwatch,
  mapHatchSwatch,
  tintSwatch,
  touchSwatch,
} from './swatches.ts';

/** One thing that the figure's tints, hatchings and lines mean. */
export interface LegendItem {
  readonly swatches: readonly Sketch[];
  readonly text: string;
}

const TINTS = 6;
const PARTING_PX = 3;

/** What there is to explain in the figure as it stands, the same in the page and in a saved picture. */
export function legendItems(
  session: SessionState,
  sight: FigureSight,
  hasProposal: boolean,
  map: MapModel | null,
): LegendItem[] {
  const { answer, plan, prefs } = session;
  const line = (text: string): LegendItem => ({ swatches: [lineSwatch('--accent', PARTING_PX)], text });
  if (prefs.isSectionOn) {
    return [
      { swatches: [cutRubberSwatch], text: 'rubber' },
      ...plan.coats.map((coat, i) => ({
        swatches: [tintSwatch(`--coat-${i % TINTS}`)],
        text: `${coat.name} ${formatLength(coat.thicknessMm, prefs.units)}`,
      })),
    ];
  }
  if (map !== null) return mapItems(session, map, answer !== null && answer.geometry.lines.length > 0);
  if (prefs.stage === 'scan') {
    return foundItems(session);
  }
  if (hasProposal) return [line('suggested line')];
  if (sight.isLineGivingWay) return [line('your line')];
  const items: LegendItem[] = (answer?.result.pieces ?? []).map((piece, i) => ({
    swatches: [tintSwatch(`--piece-${i % TINTS}`)],
    text: sayPiece(piece),
  }));
  if (prefs.isShellShown && !sight.isDrawing)
    items.push({ swatches: [tintSwatch('--rubber')], text: 'rubber' });
  if (answer && answer.geometry.lines.length > 0) items.push(line('parting line'));
  if (answer?.geometry.filler) items.push({ swatches: [fillerSwatch], text: 'filler' });
  if (sight.isTouchSeen) items.push({ swatches: [touchSwatch], text: 'inside the rubber' });
  if (sight.areLocksInSight) items.push(...lockItems(session, sight));
  return items;
}

/** The kinds of marks on the scan, the one that is shown stronger in its accent. */
function foundItems({ answer, prefs }: SessionState): LegendItem[] {
  const codes = new Set(answer?.geometry.marks.map(({ code }) => code));
  return [...codes].map((code) => ({
    swatches: [foundSketch(code, code === prefs.foundShown ? '--accent' : '--ink')],
    text: foundWords(code),
  }));
}

function lockItems({ answer, plan, prefs }: SessionState, { levelsMm }: FigureSight): LegendItem[] {
  const kinds = lockKinds(answer?.geometry.pieces ?? []);
  if (kinds.length === 0) return [{ swatches: [], text: 'nothing locks' }];
  const items: LegendItem[] = kinds.map((kind) => ({
    swatches: [hatchSwatch(kind)],
    text: LOCK_WORDS[kind],
  }));
  if (levelsMm.length > 0)
    items.push({ swatches: [depthSwatch], text: `locks by ${sayLevels(levelsMm, prefs.units)}` });
  const giveMm = plan.parting.rubberGiveMm;
  if (giveMm > 0) {
    items.push({
      swatches: [givingSwatch, giveSwatch],
      text: `the rubber gives ${formatLength(giveMm, prefs.units)}`,
    });
  }
  return items;
}

/** What is drawn over the bands of a map. */
function mapItems(
  { plan, prefs }: SessionState,
  { picture, look }: MapModel,
  hasLines: boolean,
): LegendItem[] {
  const items: LegendItem[] = [];
  const say = (mm: number) => formatLength(mm, prefs.units);
  const swatches = [mapHatchSwatch, judgedSwatch];
  if (picture.of === 'thickness' && look.judged !== null)
    items.push({ swatches, text: `below the least, ${say(plan.leastThicknessMm)}` });
  if (picture.of === 'undercut') {
    const giveMm = plan.parting.rubberGiveMm;
    items.push(
      giveMm > 0
        ? { swatches, text: `beyond what the rubber gives, ${say(giveMm)}` }
        : { swatches: [mapHatchSwatch], text: 'locks' },
    );
  }
  if (picture.of === 'draft') items.push({ swatches, text: 'faces away from the pull' });
  if (picture.of === 'distance' && look.hatch)
    items.push({ swatches: [mapHatchSwatch], text: 'inside the scan' });
  if (hasLines && prefs.stage !== 'scan')
    items.push({ swatches: [lineSwatch('--accent', PARTING_PX)], text: 'parting line' });
  return items;
}
