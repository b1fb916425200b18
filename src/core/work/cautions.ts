import type { Hazard, MaterialSystem } from '../material/MaterialSystem.ts';
import type { CastingResult, HandlingResult } from '../PlanResult.ts';
import type { PlanDocument } from '../plan/PlanDocument.ts';
import { totalThicknessMm } from '../plan/totalThicknessMm.ts';
import { sayBoth } from '../sayBoth.ts';
import {
  formatForce,
  formatLength,
  formatMass,
  formatPressure,
  formatWeight,
  type UnitSystem,
} from '../units.ts';
import { NOT_COVERED } from './lifting/liftPieces.ts';

/** Steps of the work beside which a caution stands, in the order of the work; 'All steps' stands last. */
export const CAUTION_STEPS = [
  'Rubber',
  'Release',
  'Mixing',
  'Resin',
  'Setting',
  'Flange',
  'Reinforced coat',
  'Trimming',
  'Opening',
  'Lifting',
  'Casting',
  'All steps',
] as const;
export type CautionStep = (typeof CAUTION_STEPS)[number];

/** A caution and the step of the work beside which it belongs. */
export interface Caution {
  readonly step: CautionStep;
  readonly text: string;
  /** In US units, where it holds a quantity that has another figure in them. */
  readonly usText?: string;
}

/** What of the answer decides which cautions there are. */
export interface CautionGround {
  readonly casting: CastingResult | null;
  readonly handling: readonly HandlingResult[];
}

/**
 * What can hurt someone in this plan, beside the step where it does, in the order of CAUTION_STEPS. Published figures carry their
 * source in the text; what has none says so. It informs; it clears no work: data sheets, local codes and licensed practice win, and
 * the last caution says so.
 */
export function listCautions(plan: PlanDocument, { casting, handling }: CautionGround): Caution[] {
  const hazards = new Set<Hazard>(systemsOf(plan).flatMap((system) => system.hazards));
  const laidUp = new Set<Hazard>([plan.material, ...plan.otherMaterials].flatMap((system) => system.hazards));
  const cautions: Caution[] = [
    ...ofIsocyanate(hazards, laidUp, 'Rubber'),
    ...ofRelease(plan),
    ...ofPowder(hazards),
    ...ofResin(hazards),
    ...ofIsocyanate(hazards, laidUp, 'Resin'),
    ...ofHeat(systemsOf(plan)),
    ...ofFlange(plan),
    ...ofGlass(plan, hazards),
    ...ofTrimming(hazards),
    ...ofOpening(),
    ...ofLifting(handling),
    ...ofCasting(casting),
  ];
  return [
    ...cautions,
    {
      step: 'All steps',
      text: 'Planning estimate. Follow the product’s own technical data sheet and safety data sheet where they differ; they win. Local law, codes and your insurer may ask more. Pressure, lifting and stress figures are comparisons for a skilled person, not a design; have a licensed engineer check anything that could fall, burst or trap someone. Weigh one test batch before you trust a density.',
    },
  ];
}

function systemsOf(plan: PlanDocument): MaterialSystem[] {
  return [plan.material, ...plan.otherMaterials, plan.rubber, plan.filler];
}

function ofRelease(plan: PlanDocument): Caution[] {
  const edge =
    plan.parting.lines === 'auto' && plan.parting.pieceCount < 2 ? '' : ' and the first piece’s flange face';
  return [
    {
      // Source: trade pages read for this; which release suits which material: none.
      step: 'Release',
      text: `Brush release on board, shims${edge}, and let it dry before anything is laid against it: where it was missed or still wet, pieces have fused and the pattern was walled in (trade pages). Which release suits is the data sheet’s word.`,
    },
  ];
}

function ofPowder(hazards: ReadonlySet<Hazard>): Caution[] {
  if (!hazards.has('gypsum-dust')) return [];
  return [
    {
      // Source: NIOSH Pocket Guide, entries 0518 and 0308; 29 CFR 1910.1053 for silica.
      step: 'Mixing',
      text: 'Keep powder out of the air and wear a dust mask: gypsum dust is held to 5 mg/m³ respirable (NIOSH Pocket Guide 0518), respirable quartz to 0.05 mg/m³ (29 CFR 1910.1053); the safety data sheet says whether the powder holds quartz.',
    },
    {
      // Source: trade pages for the drain; wet cleaning is the advice of the same regulators as above.
      step: 'Mixing',
      text: 'Never rinse plaster down a sink or a drain, where it sets: let the rest harden in the bucket. Wipe up wet, spills make the floor slippery.',
    },
  ];
}

function ofResin(hazards: ReadonlySet<Hazard>): Caution[] {
  const cautions: Caution[] = [];
  const add = (text: string): void => {
    cautions.push({ step: 'Resin', text });
  };
  const addBoth = (say: (system: UnitSystem) => string): void => {
    cautions.push({ step: 'Resin', ...sayBoth('text', say) });
  };
  if (hazards.has('styrene')) {
    // Source: NIOSH Pocket Guide, styrene, with the OSHA and ACGIH figures printed there.
    addBoth(
      (system) =>
        `Styrene comes off the resin: work in moving fresh air and keep flames and sparks away, it can catch fire from ${system === 'us' ? '88 °F' : '31 °C'} on. Held to 100 ppm, at no time over 200 (OSHA); 50 ppm, for a short time 100 (NIOSH); 20 ppm (ACGIH).`,
    );
  }
  if (hazards.has('peroxide')) {
    // Source: NIOSH Pocket Guide, methyl ethyl ketone peroxide.
    addBoth(
      (system) =>
        `The catalyst, a peroxide, burns eyes, and can explode when something gets into it: goggles, and clean measures of its own. At no time over 0.2 ppm, 1.5 mg/m³ (NIOSH, ACGIH). It is dosed by the resin’s mass; ${system === 'us' ? '2 % of 20 lb is 6.4 oz by weight, not 6.4 fluid ounces' : '2 % of 10 kg is 200 g, not 200 ml'}.`,
    );
  }
  if (hazards.has('epoxy')) {
    add(
      'Epoxy resin and hardener can make the skin allergic for good: gloves, sleeves, and nothing wiped off with solvent (common practice, no source; the safety data sheet says more).',
    );
  }
  return cautions;
}

/** Beside the coats' batches when they hold it, else beside the rubber: a batch of gypsum needs no word on it. */
function ofIsocyanate(
  hazards: ReadonlySet<Hazard>,
  laidUp: ReadonlySet<Hazard>,
  step: 'Rubber' | 'Resin',
): Caution[] {
  if (!hazards.has('isocyanate') || laidUp.has('isocyanate') !== (step === 'Resin')) return [];
  return [
    {
      // Source: NIOSH Pocket Guide, methylene bisphenyl isocyanate.
      step,
      text: 'Isocyanates make lungs and skin allergic: gloves and fresh air. MDI is held to 0.005 ppm over a shift, at no time over 0.02 (NIOSH; OSHA has the latter).',
    },
  ];
}

function ofHeat(systems: readonly MaterialSystem[]): Caution[] {
  const hot = systems.filter((system) => system.hazards.includes('setting-heat'));
  const cautions: Caution[] = [];
  if (hot.some((system) => system.hazards.includes('gypsum-dust'))) {
    cautions.push({
      // Source: UK Health and Safety Executive, release of 12 October 2009, on a school accident of 2007.
      step: 'Setting',
      ...sayBoth(
        'text',
        (system) =>
          `A thick mass of setting gypsum reaches about ${system === 'us' ? '140 °F' : '60 °C'}. Never cast skin in it, never leave a hand in it or a thick mass wrapped: a pupil who cast both hands in a bucket of it was left with two fingers (HSE, 12 October 2009).`,
      ),
    });
  }
  if (hot.some((system) => !system.hazards.includes('gypsum-dust'))) {
    cautions.push({
      step: 'Setting',
      text: 'Resin left in the bucket heats faster than on the wall, the more of it the hotter: spread out what is left, stand the bucket in water, take it outdoors (trade page; common practice, no source). Never cast skin in it.',
    });
  }
  return cautions;
}

function ofFlange(plan: PlanDocument): Caution[] {
  const shellMm = totalThicknessMm(plan.coats);
  const { flange } = plan.parting;
  if (flange === null || flange.widthMm > shellMm) return [];
  return [
    {
      step: 'Flange',
      ...sayBoth(
        'text',
        (system) =>
          `The flange, ${formatLength(flange.widthMm, system)} from the rubber, ends inside the shell of ${formatLength(shellMm, system)}: nothing is left to clamp or bolt. Make it wider, or leave it out.`,
      ),
    },
  ];
}

function ofGlass(plan: PlanDocument, hazards: ReadonlySet<Hazard>): Caution[] {
  const takesGlass = plan.coats.some(
    (coat) =>
      coat.reinforcementShare !== 0 && (coat.kind === 'reinforced' || coat.reinforcementShare !== null),
  );
  if (!hazards.has('glass-fibre') || !takesGlass) return [];
  return [
    {
      // Source: NIOSH Pocket Guide, fibrous glass dust.
      step: 'Reinforced coat',
      text: 'Chopped glass sheds fibres into air and skin: gloves, sleeves, goggles and a mask; held to 3 fibres/cm³ and 5 mg/m³ (NIOSH Pocket Guide, fibrous glass dust). Set edges are sharp with it: trim them before bare hands touch them (common practice, no source).',
    },
  ];
}

function ofTrimming(hazards: ReadonlySet<Hazard>): Caution[] {
  // The rule is written in feet and inches: 25 of them a minute and an inch are 0.7 m3 a minute and 25 mm.
  const sayQuartz = (system: UnitSystem): string =>
    hazards.has('gypsum-dust')
      ? ` Where the powder holds quartz: water, or a shroud with ${system === 'us' ? '25 cubic feet a minute of suction for each inch of wheel' : '0.7 m³ a minute of suction for each 25 mm of wheel'} and a filter of 99 % (29 CFR 1926.1153, table 1).`
      : '';
  return [
    {
      // Source: 29 CFR 1910.243 for the guard; 29 CFR 1926.1153 table 1 for dust at hand grinders.
      step: 'Trimming',
      ...sayBoth(
        'text',
        (system) =>
          `Trim wet, or with a shroud and a vacuum. A grinder keeps its guard between wheel and user, open over no more than 180°, and its wheel is rated for its speed (29 CFR 1910.243).${sayQuartz(system)}`,
      ),
    },
  ];
}

function ofOpening(): Caution[] {
  return [
    {
      // Source: trade pages for wedges and air; the force is 10 kPa x 0.1 m2, and 1 psi over 144 square inches.
      step: 'Opening',
      ...sayBoth(
        'text',
        (system) =>
          `Let air in before you add force: over ${system === 'us' ? 'a square foot each psi of suction holds with 144 lbf' : 'a tenth of a square metre each 10 kPa of suction holds with 1000 N'}. Thin wooden wedges all round, taps and patience; do not lever in one place (trade pages). Someone holds what comes free.`,
      ),
    },
  ];
}

function ofLifting(handling: readonly HandlingResult[]): Caution[] {
  const heavy = heavyLifts(handling);
  if (heavy.length === 0) return [];
  const say = (carry: HandlingResult['carry'], system: UnitSystem): string =>
    heavy
      .filter((row) => row.carry === carry)
      .map((row) => `${row.what} (${formatMass(1000 * row.massKg, system)})`)
      .join('; ');
  const name = (system: UnitSystem): string => {
    const two = say('two', system);
    const hoist = say('hoist', system);
    return [two && `Two people for: ${two}.`, hoist && `A hoist, or fewer pieces at a time, for: ${hoist}.`]
      .filter((part) => part !== '')
      .join(' ');
  };
  return [{ step: 'Lifting', ...sayBoth('text', (system) => `${name(system)} ${NOT_COVERED}`) }];
}

/** Of each piece the lightest state that is too much for one person, and the whole mould's. */
function heavyLifts(handling: readonly HandlingResult[]): HandlingResult[] {
  const heavy = handling.filter((row) => row.carry !== 'one');
  const lightest = new Map<string, HandlingResult>();
  for (const row of heavy) {
    const key = row.piece ?? row.what;
    const known = lightest.get(key);
    if (known === undefined || row.massKg < known.massKg) lightest.set(key, row);
  }
  return heavy.filter((row) => lightest.get(row.piece ?? row.what) === row);
}

function ofCasting(casting: CastingResult | null): Caution[] {
  if (casting === null) return [];
  const cautions: Caution[] = [
    {
      step: 'Casting',
      ...sayBoth(
        'text',
        (system) =>
          `A filled mould can burst its straps. At the lowest point it bears ${formatPressure(casting.maxPressurePa, system)}, and the fill opens a piece with up to ${formatForce(casting.closingForceN, system)} (comparison, not a design). Count and check straps and fasteners before you pour, pour slowly, keep people off the seams and from under it, and have a licensed engineer check what could fall, burst or trap someone.`,
      ),
    },
  ];
  if (casting.upliftN > 0) {
    cautions.push({
      step: 'Casting',
      // Source of the incident: a trade page on a hollow master that floated during a pour.
      ...sayBoth(
        'text',
        (system) =>
          `The fill lifts the shell off the board with ${formatForce(casting.upliftN, system)} more than it weighs, as ${formatWeight(casting.upliftN, system)} would: screw or weigh it down before you pour. One that floated had to be held down by hand for three quarters of an hour (trade page).`,
      ),
    });
  }
  if (casting.seam !== null) {
    const { pressurePa } = casting.seam;
    cautions.push({
      step: 'Casting',
      ...sayBoth(
        'text',
        (system) =>
          `It leaks first at its lowest seam, under ${formatPressure(pressurePa, system)}, where fill has pushed the rubber out (trade page). Seal that seam; some pour a little first and let it gel.`,
      ),
    });
  }
  return cautions;
}
