import type { TaskResult } from '../../core/PlanResult.ts';

/** A row of the picture of the day. */
export interface DayRow {
  readonly key: string;
  readonly label: string;
  /** Steps side by side where they overlap in time: each lane is in order and free of overlaps. At least one lane. */
  readonly lanes: readonly (readonly TaskResult[])[];
}

/**
 * One row a piece in the order given, one for what belongs to no piece, and, with several pairs of hands, one a pair with
 * what those do; a batch, which all lay together, stands in each of them. Pieces without a step have no row.
 */
export function dayRows(
  tasks: readonly TaskResult[],
  pieces: readonly { readonly id: string; readonly label: string }[],
  hands: number,
): readonly DayRow[] {
  const rows: DayRow[] = [];
  const put = (key: string, label: string, own: readonly TaskResult[]) => {
    if (own.length > 0) rows.push({ key, label, lanes: lanesOf(own) });
  };
  const known = new Set(pieces.map(({ id }) => id));
  for (const { id, label } of pieces) {
    put(
      `piece ${id}`,
      label,
      tasks.filter((t) => t.piece === id),
    );
  }
  put(
    'whole',
    'Whole mould',
    tasks.filter((t) => t.piece === null || !known.has(t.piece)),
  );
  if (hands > 1) {
    for (let who = 1; who <= hands; who++) {
      put(
        `hands ${who}`,
        `Hands ${who}`,
        tasks.filter((t) => t.attended && (t.who === who || t.kind === 'batch')),
      );
    }
  }
  return rows;
}

/** Steps in as few lanes as they need: each goes into the first lane that is free when it begins. */
function lanesOf(tasks: readonly TaskResult[]): readonly (readonly TaskResult[])[] {
  const lanes: TaskResult[][] = [];
  for (const task of tasks.toSorted((a, b) => a.startMin - b.startMin || a.endMin - b.endMin)) {
    const lane = lanes.find((held) => (held.at(-1)?.endMin ?? -Infinity) <= task.startMin);
    if (lane) lane.push(task);
    else lanes.push([task]);
  }
  return lanes;
}
