import type { PlanResult, TaskKind, TaskResult } from '../../core/PlanResult.ts';
import type { UnitSystem } from '../../core/units.ts';
import { MIN_PER_DAY, sayClock, sayDay, sayMinutes } from '../sayClock.ts';
import type { CautionPile } from './CautionPile.ts';
import type { SheetPart, SheetRow, SheetSection } from './Sheet.ts';
import { cell, column, row, table } from './sheetParts.ts';

/** Which cautions stand under the first step of a kind. */
const BESIDE: Readonly<Partial<Record<TaskKind, readonly string[]>>> = {
  wall: ['Flange'],
  release: ['Release'],
  cure: ['Setting'],
  trim: ['Trimming'],
  open: ['Opening'],
};

/** The steps by clock time, a table a day, each caution under the first step that it speaks of. */
export function daySection(result: PlanResult, system: UnitSystem, cautions: CautionPile): SheetSection {
  const { schedule, day } = result;
  const ordered = [...schedule].sort((a, b) => a.startMin - b.startMin || a.endMin - b.endMin);
  const parts: SheetPart[] = [];
  const numbers = [...new Set(ordered.map(dayNumber))];
  for (const number of numbers) {
    const tasks = ordered.filter((task) => dayNumber(task) === number);
    const said = sayDay(number * MIN_PER_DAY, day.startDate, system);
    parts.push(
      table(
        [
          column('', 'tick'),
          column('Clock', 'number'),
          column('Step'),
          column('Takes', 'number'),
          column(day.hands > 1 ? 'Hands' : 'Who'),
        ],
        tasks.map(stepRow),
        { caption: said[0].toUpperCase() + said.slice(1) },
      ),
    );
  }
  const rest = Object.values(BESIDE).flatMap((steps) => cautions.take(...steps));
  if (rest.length > 0) parts.push({ kind: 'cautions', lines: rest });
  return { id: 'day', title: 'The day', parts };

  function stepRow(task: TaskResult): SheetRow {
    const who = task.who === null ? 'waits' : day.hands > 1 ? `${task.who}` : '';
    return {
      ...row(
        [
          task.attended ? '' : 'none',
          `${sayClock(task.startMin, system)} \u2013 ${sayClock(task.endMin, system)}${task.endMin >= (dayNumber(task) + 1) * MIN_PER_DAY ? ` ${sayDay(task.endMin, day.startDate, system)}` : ''}`,
          cell(task.what, sayWindow(task)),
          sayMinutes(task.endMin - task.startMin),
          who,
        ],
        task.attended ? 'plain' : 'quiet',
      ),
      cautions: cautions.take(...(BESIDE[task.kind] ?? [])),
    };
  }

  /** Only where there is an end to it: that it cannot begin sooner is what the waits above it say. */
  function sayWindow({ latestMin }: TaskResult): string {
    return latestMin === null
      ? ''
      : `no later than ${sayDay(latestMin, day.startDate, system)}, ${sayClock(latestMin, system)}`;
  }
}

const dayNumber = (task: TaskResult): number => Math.floor(task.startMin / MIN_PER_DAY);
