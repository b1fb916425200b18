import type { MaterialSystem, Pack } from '../../material/MaterialSystem.ts';
import { mixOf } from '../../material/mixOf.ts';
import type { BatchResult, CoatWork, ShoppingItem, WorkNote } from '../../PlanResult.ts';
import { MM_PER_UNIT } from '../../plan/lengthUnits.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { totalThicknessMm } from '../../plan/totalThicknessMm.ts';
import { sayBoth } from '../../sayBoth.ts';
import { formatArea, formatArealMass, formatLength, formatMass, type UnitSystem } from '../../units.ts';
import { saySolution } from '../batches/mixingSteps.ts';
import type { WorkGround } from '../WorkGround.ts';
import { choosePacks } from './choosePacks.ts';
import { cleanSum } from './cleanSum.ts';
import { countStrips } from './countStrips.ts';
import { findShortage } from './findShortage.ts';
import { listUses } from './listUses.ts';
import { nameItems, stockOfParts } from './nameItems.ts';
import { type PartToBuy, partKey, partsToBuy } from './partsToBuy.ts';
import { BOARD_MARGIN_MM, releaseNeed } from './releaseNeed.ts';

const MM2_PER_M2 = 1e6;
const MM3_PER_CM3 = 1000;

/**
 * What the whole job takes, less what is in stock, in packs: parts of the mixes as the batches weigh them (logged ones
 * at their true weight: the stock list is of the shelf as it was before the job), rubber that is yet to be brushed and
 * filler with their losses, release agent, shims, fasteners. Additives that are made up with water are bought, and kept
 * in stock, as the dry matter. What runs out in stock is noted with the coat at which it does.
 * For what is counted `packG` and `leftG` are pieces. What weighs and counts nothing is left out.
 */
export function planShopping(
  plan: PlanDocument,
  ground: WorkGround,
  work: readonly CoatWork[],
  batches: readonly BatchResult[],
): { readonly items: ShoppingItem[]; readonly notes: WorkNote[] } {
  const uses = listUses(plan, work, batches);
  const takenG = new Map<string, number>();
  const take = (key: string, massG: number): void => {
    takenG.set(key, (takenG.get(key) ?? 0) + massG);
  };
  for (const use of uses) for (const [key, massG] of use.massByKeyG) take(key, massG);
  // Where the rubber itself was scanned it has long been bought.
  const rubberG = plan.scan.is === 'pattern' ? ground.rubberG : 0;
  for (const [system, laidG] of [
    [plan.rubber, rubberG],
    [plan.filler, ground.fillerG],
  ] as const) {
    for (const [name, massG] of Object.entries(mixedForBrushing(plan, system, laidG))) {
      take(partKey(system.id, name), massG);
    }
  }

  const parts = partsToBuy(plan).filter((part) => (takenG.get(part.key) ?? 0) > 0);
  const names = nameItems(parts);
  const stockG = stockOfParts(plan.stock, parts);
  const items = parts.map((part) => {
    const neededG = cleanSum((takenG.get(part.key) ?? 0) * part.boughtShare);
    const item = weighedItem(
      names.get(part.key) ?? part.name,
      part.kind,
      neededG,
      stockG.get(part.key) ?? 0,
      part.packs,
      (system) => sayPart(part, neededG, system),
    );
    return part.isTapWater ? { ...item, cost: 0, ...sayBoth('say', () => 'from the tap') } : item;
  });
  const notes = findShortage(uses, parts, names, stockG);
  for (const part of parts) {
    // Rubber and filler belong to no coat of the shell.
    if (part.kind !== 'rubber' && part.kind !== 'filler') continue;
    const inStockG = stockG.get(part.key);
    if (inStockG !== undefined) {
      addShort(notes, names.get(part.key) ?? part.name, takenG.get(part.key) ?? 0, inStockG);
    }
  }
  addRelease(plan, ground, items, notes);
  addShims(plan, ground, items, notes);
  addFasteners(plan, ground, items);
  return { items, notes };
}

/** By part, g: what is laid and what its losses add, a bucketful at a time. */
function mixedForBrushing(plan: PlanDocument, system: MaterialSystem, laidG: number): Record<string, number> {
  if (!(laidG > 0)) return {};
  const { shares, densityGPerCm3 } = mixOf(system, { kind: 'build', additives: [], reinforcementShare: 0 });
  const bucketG = plan.bench.bucketMl * plan.bench.bucketFillShare * densityGPerCm3;
  const buckets = Math.ceil((laidG * (1 + system.lossShare)) / bucketG);
  const mixedG = laidG * (1 + system.lossShare) + buckets * system.lossPerBatchG;
  return Object.fromEntries(Object.entries(shares).map(([name, share]) => [name, share * mixedG]));
}

function weighedItem(
  item: string,
  kind: ShoppingItem['kind'],
  neededG: number,
  inStockG: number,
  packs: readonly Pack[],
  say: (system: UnitSystem) => string,
): ShoppingItem {
  const toBuyG = Math.max(0, neededG - inStockG);
  const common = { item, kind, neededG, neededCount: null, inStockG };
  const chosen = choosePacks(toBuyG, packs);
  if (chosen.length === 0) {
    // Enough in stock, or nothing is known of packs.
    const isEnough = toBuyG === 0;
    const [smallest] = [...packs].sort((a, b) => a.massG - b.massG);
    return {
      ...common,
      packG: isEnough && smallest ? smallest.massG : null,
      packs: isEnough && smallest ? 0 : null,
      leftG: isEnough ? cleanSum(inStockG - neededG) : null,
      cost: isEnough ? 0 : null,
      ...sayBoth('say', say),
    };
  }
  const [first, ...more] = [...chosen].sort((a, b) => b.count * b.pack.massG - a.count * a.pack.massG);
  const boughtG = chosen.reduce((sum, { pack, count }) => sum + pack.massG * count, 0);
  const isPriced = chosen.every(({ pack }) => pack.price !== null);
  const sayOthers = (system: UnitSystem): string =>
    more.map(({ pack, count }) => `${count} of ${formatMass(pack.massG, system)}`).join(', ');
  return {
    ...common,
    packG: first.pack.massG,
    packs: first.count,
    ...(more.length > 0
      ? { morePacks: more.map(({ pack, count }) => ({ packG: pack.massG, packs: count })) }
      : {}),
    leftG: cleanSum(inStockG + boughtG - neededG),
    cost: isPriced ? chosen.reduce((sum, { pack, count }) => sum + (pack.price ?? 0) * count, 0) : null,
    ...sayBoth('say', (system) =>
      [more.length > 0 ? `and ${sayOthers(system)}` : '', say(system)]
        .filter((part) => part !== '')
        .join('; '),
    ),
  };
}

function sayPart({ system: material, name }: PartToBuy, neededG: number, system: UnitSystem): string {
  const { reinforcement } = material;
  if (reinforcement !== null && name === reinforcement.name) {
    if (reinforcement.arealGPerM2 !== null) {
      const areaMm2 = (neededG / reinforcement.arealGPerM2) * MM2_PER_M2;
      return `${formatArea(areaMm2, system)} at ${formatArealMass(reinforcement.arealGPerM2, system)}`;
    }
    return reinforcement.lengthMm === null
      ? ''
      : `chopped to ${formatLength(reinforcement.lengthMm, system)}`;
  }
  const solution = material.additives.find((additive) => additive.name === name)?.solution ?? null;
  return solution === null ? '' : `dry, to be made up: ${saySolution(solution)}`;
}

function addRelease(plan: PlanDocument, ground: WorkGround, items: ShoppingItem[], notes: WorkNote[]): void {
  const { release } = plan.supplies;
  const { areaMm2, massG, hasBoard } = releaseNeed(plan, ground, wallWidthMm(plan, ground));
  if (!(massG > 0)) return;
  const named = plan.stock.filter((one) => one.item === release.name);
  const inStockG = named.reduce((sum, one) => sum + one.massG, 0);
  const sayBoard = (system: UnitSystem): string =>
    hasBoard
      ? ` and ${formatLength(BOARD_MARGIN_MM, system)} of board around the wall`
      : '; the board’s margin is not in it';
  const coats = release.coats === 1 ? '1 coat' : `${release.coats} coats`;
  const say = (system: UnitSystem): string =>
    `${coats} over ${formatArea(areaMm2, system)} of shims and edges${sayBoard(system)}`;
  items.push(weighedItem(release.name, 'release', massG, inStockG, release.packs, say));
  if (named.length > 0) addShort(notes, release.name, massG, inStockG);
}

function addShims(plan: PlanDocument, ground: WorkGround, items: ShoppingItem[], notes: WorkNote[]): void {
  const { shim } = plan.supplies;
  const lineMm = ground.borders.reduce((sum, border) => sum + border.lengthMm, 0);
  if (!(lineMm > 0)) return;
  let strips = 0;
  for (const border of ground.borders) {
    const count = countStrips(border.lengthMm, shim.stripLengthMm, shim.overlapMm);
    if (count === null) {
      notes.push({
        code: 'shim-overlap',
        piece: null,
        coat: null,
        ...sayBoth(
          'text',
          (system) =>
            `The strips of ${shim.name} are ${formatLength(shim.stripLengthMm, system)} long and overlap by ${formatLength(shim.overlapMm, system)}, so that no number of them gets anywhere. Give a longer strip or less overlap.`,
        ),
      });
      return;
    }
    strips += count;
  }
  const widthMm = wallWidthMm(plan, ground);
  if (shim.stripWidthMm < widthMm) {
    notes.push({
      code: 'shim-too-narrow',
      piece: null,
      coat: null,
      ...sayBoth(
        'text',
        (system) =>
          `The strips of ${shim.name} are ${formatLength(shim.stripWidthMm, system)} wide; the parting wall stands ${formatLength(widthMm, system)} off the rubber. Give wider strips, or a narrower flange.`,
      ),
    });
  }
  // g/cm3 times mm is kg/m2.
  const arealGPerM2 = 1000 * shim.thicknessMm * shim.densityGPerCm3;
  const stripMm2 = shim.stripLengthMm * shim.stripWidthMm;
  const massG = (strips * stripMm2 * shim.thicknessMm * shim.densityGPerCm3) / MM3_PER_CM3;
  const sayRate = (system: UnitSystem): string => {
    const reachMm = shim.stripLengthMm - shim.overlapMm;
    return system === 'us'
      ? `${(MM_PER_UNIT.ft / reachMm).toFixed(2)} a foot`
      : `${(MM_PER_UNIT.m / reachMm).toFixed(1)} a metre`;
  };
  items.push(
    countedItem(
      shim.name,
      'shims',
      strips,
      shim.stripsPerPack,
      shim.packPrice,
      (system) =>
        `${formatLength(lineMm, system)} of line, strips of ${formatLength(shim.stripLengthMm, system)} x ${formatLength(shim.stripWidthMm, system)}, ${sayRate(system)}; ${formatMass(massG, system)} at ${formatArealMass(arealGPerM2, system)}`,
    ),
  );
}

function addFasteners(plan: PlanDocument, ground: WorkGround, items: ShoppingItem[]): void {
  const { fastener } = plan.supplies;
  if (ground.fasteners === null || ground.fasteners === 0) return;
  items.push(
    countedItem(fastener.name, 'fasteners', ground.fasteners, fastener.perPack, fastener.packPrice, () => ''),
  );
}

function countedItem(
  item: string,
  kind: ShoppingItem['kind'],
  count: number,
  perPack: number,
  packPrice: number | null,
  say: (system: UnitSystem) => string,
): ShoppingItem {
  const packs = Math.ceil(count / perPack);
  return {
    item,
    kind,
    neededG: null,
    neededCount: count,
    inStockG: 0,
    packG: perPack,
    packs,
    leftG: packs * perPack - count,
    cost: packPrice === null ? null : packs * packPrice,
    ...sayBoth('say', say),
  };
}

/** How far the parting wall stands off the rubber: as the flange, else as the shell is thick. */
function wallWidthMm(plan: PlanDocument, ground: WorkGround): number {
  const shellMm = totalThicknessMm(plan.coats);
  return Math.max(ground.flangeWidthMm, shellMm);
}

function addShort(notes: WorkNote[], item: string, neededG: number, inStockG: number): void {
  if (neededG <= inStockG) return;
  notes.push({
    code: 'short-of-stock',
    piece: null,
    coat: null,
    ...sayBoth(
      'text',
      (system) =>
        `You will run short of ${item}: ${formatMass(inStockG, system)} in stock, ${formatMass(neededG - inStockG, system)} more is needed.`,
    ),
  });
}
