import { listWords } from '../../listWords.ts';
import type { BatchResult, CoatWork, WorkNote } from '../../PlanResult.ts';
import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { orderPieces } from '../log/planCoatWork.ts';
import { sayCoat } from '../sayCoat.ts';
import type { PieceGround, WorkGround } from '../WorkGround.ts';
import { batchTaskId } from './batchTaskId.ts';
import { bondLimits } from './bondLimits.ts';
import type { DayTask, StartLimit } from './DayTask.ts';
import type { LogClock } from './LogClock.ts';
import { sayMinutes } from './sayMinutes.ts';
import type { WorkHours } from './WorkHours.ts';

const MM_PER_M = 1000;
/** Times are products of ratios; 60 min must not become 61 by their last digit. */
const SUM_SLACK_MIN = 1e-6;

/**
 * All that is still to be done, as steps that wait for one another, in the order in which one pair of hands would do it.
 *
 * A piece: the parting wall with its shims along borders whose other side is not built yet; release brushed on shims,
 * board and the edges of the neighbours that stand; while it dries, the bench is set out; then coat by coat, its
 * batches one after the other without a pause, and the wait; after the last coat the full cure (or the wait that the
 * user gave that coat); shims out, edge cleaned. A piece begins when every neighbour that is built before it has come
 * so far. Pieces that share no border wait for nothing but hands. When all pieces stand: trimming, opening, first
 * assembly.
 *
 * A batch takes all hands: `layMin` is its area over the pace of all of them, so nobody is left over to lay another. Every
 * other step takes one pair. Minutes are rounded up to whole ones; a step of none is left out, and what would wait for it
 * waits for what it would have waited for.
 *
 * By the log: a logged batch or a coat that is done is past and gives no step. A piece with any of them has its wall and
 * release behind it; the cure of its last coat still counts, from the time in the log where there is one, from the
 * first working minute otherwise, unless the next coat or a neighbour built after it is begun. A coat without a batch
 * that is not done (it cannot be laid in time, which a note of the batches says) has its wait alone.
 */
export function buildTasks(
  plan: PlanDocument,
  work: readonly CoatWork[],
  batches: readonly BatchResult[],
  ground: WorkGround,
  hours: WorkHours,
  clock: LogClock,
): { readonly tasks: readonly DayTask[]; readonly notes: readonly WorkNote[] } {
  const list = new TaskList(clock.nowMin);
  const notes: WorkNote[] = [];
  const coatsOf = (id: string): CoatWork[] => work.filter(({ piece }) => piece === id);
  const isBegun = (id: string): boolean => isLogged(plan, id);
  // What the log has begun came first, whatever the order says by now.
  const ordered = orderPieces(plan, ground.pieces);
  const pieces = [...ordered.filter(({ id }) => isBegun(id)), ...ordered.filter(({ id }) => !isBegun(id))];
  const stood: { readonly piece: PieceGround; readonly ends: readonly string[] }[] = [];
  for (const [rank, piece] of pieces.entries()) {
    const borders = ground.borders.filter(({ between }) => between.includes(piece.id));
    const isShared = (other: PieceGround): boolean =>
      borders.some(({ between }) => between.includes(other.id));
    const neighbours = stood.filter((other) => isShared(other.piece));
    const later = pieces.slice(rank + 1).filter(isShared);
    const wallMm = borders
      .filter(({ between }) => later.some(({ id }) => between.includes(id)))
      .reduce((sum, { lengthMm }) => sum + lengthMm, 0);
    let ends: readonly string[] = [];
    if (!isBegun(piece.id)) {
      ends = [...new Set(neighbours.flatMap((other) => other.ends))];
      const { stepMin } = plan.day;
      const say = { piece: piece.id };
      const begin = list.add(
        { ...say, id: 'wall', kind: 'wall', what: `${piece.name}: parting wall and shims` },
        (wallMm / MM_PER_M) * stepMin.wallPerM,
        ends,
      );
      const on = [
        ...(wallMm > 0 ? ['shims'] : []),
        'board',
        ...neighbours.map((other) => `the edge of ${other.piece.name}`),
      ];
      const brushed = list.add(
        { ...say, id: 'release', kind: 'release', what: `${piece.name}: release on ${listWords(on)}` },
        stepMin.releaseBrush,
        begin,
      );
      const dry = list.wait(
        { ...say, id: 'dry', kind: 'dry', what: `${piece.name}: release dries` },
        stepMin.releaseDry,
        brushed,
      );
      const setOut = list.add(
        { ...say, id: 'set-out', kind: 'set-out', what: `${piece.name}: bench set out for the coats` },
        stepMin.setOut,
        brushed,
      );
      ends = [...new Set([...dry, ...setOut])];
    }
    const isNeighbourBegun = later.some(({ id }) => isBegun(id));
    ends = addCoats({ plan, list, hours, clock, notes }, coatsOf(piece.id), batches, ends, isNeighbourBegun);
    if (later.length > 0 && !isNeighbourBegun) {
      ends = list.add(
        { id: 'shims', kind: 'shims', what: `${piece.name}: shims out`, piece: piece.id },
        plan.day.stepMin.shimsOut,
        ends,
      );
      ends = list.add(
        { id: 'clean', kind: 'clean', what: `${piece.name}: edge cleaned`, piece: piece.id },
        plan.day.stepMin.edgeClean,
        ends,
      );
    }
    stood.push({ piece, ends });
  }
  const all = [...new Set(stood.flatMap(({ ends }) => ends))];
  const trimmed = stood.flatMap(({ piece }) =>
    list.add(
      { id: 'trim', kind: 'trim', what: `${piece.name}: trimmed`, piece: piece.id },
      plan.day.stepMin.trimPerPiece,
      all,
    ),
  );
  const opened = list.add(
    { id: 'open', kind: 'open', what: 'Mould opened', piece: null },
    plan.day.stepMin.open,
    [...new Set(trimmed)],
  );
  list.add(
    { id: 'assemble', kind: 'assemble', what: 'First assembly', piece: null },
    plan.day.stepMin.assemble,
    opened,
  );
  return { tasks: list.tasks, notes };
}

interface CoatsGround {
  readonly plan: PlanDocument;
  readonly list: TaskList;
  readonly hours: WorkHours;
  readonly clock: LogClock;
  readonly notes: WorkNote[];
}

/** The coats of one piece that are not done; what is over when the last has cured. */
function addCoats(
  { plan, list, hours, clock, notes }: CoatsGround,
  all: readonly CoatWork[],
  batches: readonly BatchResult[],
  after: readonly string[],
  isNeighbourBegun: boolean,
): readonly string[] {
  let ends = after;
  // A coat that the ones below have saved is never laid, and nothing waits for it.
  const coats = all.filter(({ thicknessMm, laidG }) => thicknessMm > 0 || laidG > 0);
  const last = coats.length - 1;
  let below: readonly BatchResult[] = [];
  for (const [n, coat] of coats.entries()) {
    const own = batches.filter((batch) => batch.piece === coat.piece && batch.coatNumber === coat.coat);
    const open = coat.isDone ? [] : own.filter((batch) => batch.loggedG === null);
    const isLaid = coat.isDone || (coat.toLayG <= 0 && open.length === 0);
    const isPast =
      isNeighbourBegun || coats.slice(n + 1).some((above) => isLogged(plan, coat.piece, above.coat));
    const minutes = open.map((batch) => Math.max(1, wholeMinutes(batch.mixMin + batch.layMin)));
    const wholeMin = minutes.reduce((sum, each) => sum + each, 0);
    if (open.length > 1 && wholeMin > hours.lengthMin) {
      notes.push(coatOverDays(coat, wholeMin, open.length, hours));
    }
    for (const [k, batch] of open.entries()) {
      const limits: StartLimit[] = bondLimits(coats[n - 1], below, own, batch);
      // A coat that fits into a day is laid in one go: no joint between batches that set apart.
      if (k > 0 && wholeMin <= hours.lengthMin) {
        limits.push({ of: batchTaskId(open[k - 1]), withinMin: 0, why: 'seam' });
      }
      ends = list.add(
        {
          id: `coat${coat.coat + 1}/batch${batch.number}`,
          kind: 'batch',
          what: `${coat.pieceName}: ${coat.name}, batch ${batch.number} of ${batch.of}`,
          piece: coat.piece,
          coat: coat.name,
          coatNumber: coat.coat,
          batch: batch.number,
          hands: plan.bench.hands,
          limits,
        },
        minutes[k],
        ends,
      );
    }
    below = own;
    if (isLaid && isPast) continue;
    // Done, but nothing on it yet: it may be fresh. What is still to be laid below it has the wait before it in any case.
    const fromMin = isLaid ? clock.laidMin(coat.piece, coat.coat) : 0;
    ends = list.wait(
      {
        id: `coat${coat.coat + 1}/${n < last ? 'cure' : 'full-cure'}`,
        kind: 'cure',
        what:
          n < last
            ? `${coat.pieceName}: ${coat.name} sets before the next coat`
            : `${coat.pieceName}: full cure`,
        piece: coat.piece,
        coat: coat.name,
        coatNumber: coat.coat,
      },
      waitAfter(plan, coat, n === last),
      ends,
      fromMin,
    );
  }
  return ends;
}

/** After the last coat: the user's own wait where the plan has one, else the full cure. */
function waitAfter(plan: PlanDocument, coat: CoatWork, isLast: boolean): number {
  if (!isLast) return coat.times.partialCureMin;
  return plan.coats[coat.coat]?.waitMin ?? coat.times.fullCureMin;
}

/** Whether the log has anything of the piece, or of this coat of it: a batch, or that it is finished. */
function isLogged({ log }: PlanDocument, piece: string, coat?: number): boolean {
  const isIt = (one: { readonly piece: string; readonly coat: number }): boolean =>
    one.piece === piece && (coat === undefined || one.coat === coat);
  return log.batches.some(isIt) || log.closed.some(isIt);
}

function coatOverDays(coat: CoatWork, wholeMin: number, count: number, hours: WorkHours): WorkNote {
  return {
    code: 'day-too-short',
    piece: coat.piece,
    coat: coat.coat,
    text: `${sayCoat(coat)}: its ${count} batches take ${sayMinutes(wholeMin)}, the working day has ${sayMinutes(hours.lengthMin)}. The coat is laid on more than one day, with a joint where it stops; key that edge. More hands, longer hours or a piece more would keep it in one day.`,
  };
}

/** Rounded up, but for what the sums of floating numbers leave over. */
function wholeMinutes(minutes: number): number {
  return Math.ceil(minutes - SUM_SLACK_MIN);
}

type TaskWords = Pick<DayTask, 'id' | 'kind' | 'what' | 'piece'> &
  Partial<Pick<DayTask, 'coat' | 'coatNumber' | 'batch' | 'hands' | 'limits'>>;

/** Collects steps; what is added comes back as the ids that the next one waits for. */
class TaskList {
  readonly tasks: DayTask[] = [];

  /** Steps of hands begin no sooner than `nowMin`. */
  constructor(private readonly nowMin: number) {}

  /** A step that somebody stands at, one pair of hands unless it says more. */
  add(words: TaskWords, minutes: number, after: readonly string[]): readonly string[] {
    return this.push({ hands: 1, ...words }, minutes, after, this.nowMin);
  }

  /** A step that goes by itself. */
  wait(words: TaskWords, minutes: number, after: readonly string[], fromMin = 0): readonly string[] {
    return this.push({ ...words, hands: 0 }, minutes, after, fromMin);
  }

  private push(
    words: TaskWords & { readonly hands: number },
    minutes: number,
    after: readonly string[],
    soonestMin: number,
  ): readonly string[] {
    const whole = wholeMinutes(minutes);
    if (whole <= 0) return after;
    const id = words.piece === null ? words.id : `${words.piece}/${words.id}`;
    this.tasks.push({
      coat: null,
      coatNumber: null,
      batch: null,
      limits: [],
      ...words,
      id,
      minutes: whole,
      after,
      soonestMin,
    });
    return [id];
  }
}
