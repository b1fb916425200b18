import { formatLength, formatMass, formatVolume, G_PER_POUND, type UnitSystem } from '../core/units.ts';
import { sayClock, sayDay, sayMinutes } from '../report/sayClock.ts';
import { sayMoney } from '../report/sayMoney.ts';
import { deepestLock } from '../session/deepestLock.ts';
import { elapsedMin, isStale, type SessionState } from '../session/SessionStore.ts';
import { sayBound, sayChange } from './sayAmounts.ts';
import { sayLengthChange } from './sayLengths.ts';

/** One number of the title block. */
export interface Total {
  readonly key: 'shell-mass' | 'heaviest-mass' | 'deepest-lock' | 'batches' | 'day' | 'cost';
  readonly label: string;
  /** "10.4 kg"; a dash while there is none, three dots while it is still being worked out. */
  readonly value: string;
  /** What the last change did to it, "+0.42 kg"; '' when it did nothing that can be read, and while that is not known. */
  readonly change: string;
  /** Its bound, or what else belongs to it. */
  readonly note: string;
}

/** Less than this is no change of a price, in the plan's currency: half a cent. */
const LEAST_MONEY = 0.005;

/** As heavy as this is written in pounds without ounces. */
const POUNDS_ALONE_G = 1000 * G_PER_POUND;

const NOTHING = '\u2013';
const COMING = '\u2026';

/** What the plan comes to, in the title block's order, each with what the last change did to it. */
export function readTotals(session: SessionState): readonly Total[] {
  const { answer, before } = session;
  const isComparable = answer?.isFinal === true && !isStale(session) && before !== null;
  const was = isComparable ? before : null;
  return [
    readShell(session, was),
    readHeaviest(session, was),
    readLocks(session, was),
    readBatches(session, was),
    readDay(session, was),
    readCost(session, was),
  ];
}

type Before = SessionState['before'];

/** True of the first numbers of a scan whose first lines are still being sought: one piece, without a flange. */
function isUndivided({ answer, plan }: SessionState): boolean {
  return answer?.isRough === true && plan.parting.lines === 'auto' && answer.result.partingLines.length === 0;
}

function readShell(session: SessionState, was: Before): Total {
  const { answer, plan, prefs } = session;
  const { units } = prefs;
  const shell = answer?.result.shell ?? null;
  const isBare = isUndivided(session) && plan.parting.flange !== null;
  return {
    key: 'shell-mass',
    label: 'Shell',
    value: shell ? sayShortMass(shell.massG, units) : NOTHING,
    change: shell && was ? changeOr(sayChange(shell.massG, was.shellMassG, units)) : '',
    note: isBare
      ? 'flange not yet in it'
      : shell
        ? sayBound(shell.massErrorG, shell.massG, 'mass', units)
        : '',
  };
}

function readHeaviest(session: SessionState, was: Before): Total {
  const { answer, prefs } = session;
  const { units } = prefs;
  const pieces = isUndivided(session) ? [] : (answer?.result.pieces ?? []);
  const heaviest = pieces.reduce<(typeof pieces)[number] | undefined>(
    (most, piece) => (most && most.massG >= piece.massG ? most : piece),
    undefined,
  );
  return {
    key: 'heaviest-mass',
    label: 'Heaviest piece',
    value: heaviest ? sayShortMass(heaviest.massG, units) : isUndivided(session) ? COMING : NOTHING,
    change: heaviest && was ? changeOr(sayChange(heaviest.massG, was.heaviestMassG, units)) : '',
    note: heaviest?.name ?? '',
  };
}

/** The deepest lock, what the last change did to it, and the filler: accepted, or still called for. */
function readLocks({ answer, plan, prefs: { units } }: SessionState, was: Before): Total {
  const result = answer?.result ?? null;
  const lock = result ? deepestLock(result) : null;
  const filled = result?.filler ? `${formatMass(result.filler.massG, units)} filled` : '';
  const wanted =
    lock && lock.fillerBeyondGiveG > 0 ? `filler ${formatMass(lock.fillerBeyondGiveG, units)}` : '';
  const isYielding = lock !== null && lock.depthMm > 0 && lock.depthMm <= plan.parting.rubberGiveMm;
  const wasMm = was?.deepestLockMm ?? null;
  return {
    key: 'deepest-lock',
    label: 'Locks',
    value: lock
      ? lock.depthMm === 0
        ? 'nowhere'
        : formatLength(lock.depthMm, units)
      : result
        ? COMING
        : NOTHING,
    change: lock && wasMm !== null ? changeOr(sayLengthChange(lock.depthMm, wasMm, units)) : '',
    note: [wanted || (isYielding ? 'the rubber yields' : ''), filled].filter(Boolean).join(', '),
  };
}

/** How many bucketfuls, what they come to or how many are on the wall. */
function readBatches({ answer, prefs: { units } }: SessionState, was: Before): Total {
  const result = answer?.result ?? null;
  const count = result?.batches.length ?? 0;
  const done = result?.batches.filter(({ loggedG }) => loggedG !== null).length ?? 0;
  const change = was ? count - was.batches : 0;
  return {
    key: 'batches',
    label: 'Batches',
    value: result ? String(count) : NOTHING,
    change: change === 0 ? '' : signed(change, String(Math.abs(change))),
    note: result
      ? done > 0
        ? `${done} done`
        : `${formatVolume(result.shell.volumeMm3, units)} laid up`
      : '',
  };
}

/** Days on which somebody is at work, and when it is over. */
function readDay({ answer, prefs: { units } }: SessionState, was: Before): Total {
  const total = { key: 'day', label: 'Day' } as const;
  const day = answer?.result.day ?? null;
  if (answer === null || day === null || answer.result.schedule.length === 0) {
    return { ...total, value: day ? 'done' : NOTHING, change: '', note: '' };
  }
  const change = was ? elapsedMin(answer.result.schedule) - was.elapsedMin : 0;
  return {
    ...total,
    value: `${day.days} ${day.days === 1 ? 'day' : 'days'}`,
    change: Math.abs(change) < 1 ? '' : signed(change, sayMinutes(Math.abs(change))),
    note: `over ${sayDay(day.endMin, day.startDate, units)}, ${sayClock(day.endMin, units)}`,
  };
}

/** What is bought for it, and how much of that has no price. */
function readCost({ answer }: SessionState, was: Before): Total {
  const cost = answer?.result.cost ?? null;
  const wasCost = was?.cost ?? null;
  const change = cost !== null && cost.total !== null && wasCost !== null ? cost.total - wasCost : 0;
  const unpriced = cost?.unpriced.length ?? 0;
  return {
    key: 'cost',
    label: 'Cost',
    value: cost ? (cost.total === null ? 'no prices' : sayMoney(cost.total, cost.currency)) : NOTHING,
    change: Math.abs(change) < LEAST_MONEY ? '' : signed(change, sayMoney(Math.abs(change), '')),
    note: cost !== null && cost.total !== null && unpriced > 0 ? `${unpriced} without a price` : '',
  };
}

/** A mass in large figures: "10.4 lb" rather than "10 lb 6.2 oz", which would run over its cell's line. */
function sayShortMass(massG: number, units: UnitSystem): string {
  return formatMass(massG, units, units === 'us' && massG >= G_PER_POUND ? POUNDS_ALONE_G : massG);
}

function signed(change: number, size: string): string {
  return `${change > 0 ? '+' : '\u2212'}${size}`;
}

function changeOr(text: string): string {
  return text === 'no change' ? '' : text;
}
