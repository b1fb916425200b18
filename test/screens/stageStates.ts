import type { Page } from 'playwright-core';
import { openStage } from '../browser/readFigures.ts';
import { openSetting } from './openSetting.ts';
import type { ScreenState } from './ScreenState.ts';

const STAGES = ['Scan', 'Parting', 'Coats', 'Mix', 'Sheet'] as const;
type Stage = (typeof STAGES)[number];

/** Parts of the long panels that are looked at by themselves, by their headings. */
const PARTS: readonly (readonly [Stage, string])[] = [
  ['Scan', 'Standing'],
  ['Scan', 'Found'],
  ['Parting', 'Undercuts'],
  ['Parting', 'Pulls'],
  ['Parting', 'Sliding apart'],
  ['Parting', 'Lines'],
  ['Parting', 'Flange'],
  ['Mix', 'Its values'],
  ['Mix', 'Batches'],
  ['Mix', 'Bench'],
  ['Mix', 'To buy'],
  ['Mix', 'Beside the mixes'],
  ['Mix', 'Rubber and filler'],
  ['Mix', 'Cost'],
  ['Mix', 'Systems side by side'],
  ['Mix', 'When it is filled'],
  ['Mix', 'In the hand'],
  ['Sheet', 'Batches'],
  ['Sheet', 'When'],
  ['Sheet', 'The day'],
  ['Sheet', 'Thickness by the pin'],
  ['Sheet', 'Names on the sheet'],
];

/** The five stages, the head and the end of each; their parts; and all five in US units. */
export const STAGE_STATES: readonly ScreenState[] = [
  ...STAGES.map((stage): ScreenState => ({ name: stem(stage), reach: (page) => openWhole(page, stage) })),
  ...STAGES.map(
    (stage): ScreenState => ({
      name: `${stem(stage)}-end`,
      reach: (page) => openWhole(page, stage),
      show: 'end',
      isLightOnly: true,
    }),
  ),
  ...PARTS.map(([stage, part]) => partState(stage, part)),
  ...STAGES.map(
    (stage): ScreenState => ({
      name: `us-${stem(stage)}`,
      reach: async (page) => {
        await setUnits(page, 'US');
        await openWhole(page, stage);
      },
      leave: (page) => setUnits(page, 'metric'),
      isLightOnly: true,
      inWindows: ['1440x900', '390x844'],
    }),
  ),
];

/** Opens a stage; the sheet's pictures are drawn after it, and waited for. */
async function openWhole(page: Page, stage: Stage): Promise<void> {
  await openStage(page, stage);
  if (stage === 'Sheet') await page.locator('scute-shop-sheet .figures').waitFor();
}

/** "3-coats" */
function stem(stage: Stage): string {
  return `${STAGES.indexOf(stage) + 1}-${stage.toLowerCase()}`;
}

function partState(stage: Stage, part: string): ScreenState {
  const headOf = (page: Page) => page.locator('aside').getByRole('heading', { name: part, exact: true });
  const foldOf = (page: Page) => page.locator('details').filter({ has: headOf(page) });
  let wasShut = false;
  return {
    name: `${stem(stage)}-${part.toLowerCase().replaceAll(' ', '-')}`,
    reach: async (page) => {
      await openStage(page, stage);
      await headOf(page).first().waitFor();
      wasShut = (await foldOf(page).count()) > 0 && (await foldOf(page).getAttribute('open')) === null;
      if (wasShut) await headOf(page).click();
    },
    leave: async (page) => {
      if (wasShut) await headOf(page).click();
    },
    show: headOf,
    isLightOnly: true,
  };
}

async function setUnits(page: Page, units: 'US' | 'metric'): Promise<void> {
  const choice = page.getByRole('radio', { name: units, exact: true });
  await openSetting(page, choice);
  await choice.check();
}
