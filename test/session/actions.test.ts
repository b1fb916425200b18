import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import {
  addCoat,
  moveCoat,
  removeCoat,
  setCoatThickness,
  totalThicknessMm,
} from '../../src/session/coatActions.ts';
import { startClearArea } from '../../src/session/paintActions.ts';
import {
  addLine,
  adoptLines,
  movePoint,
  removeLine,
  removePoint,
  setFlange,
  setPieceCount,
} from '../../src/session/partingActions.ts';
import type { PlanEdit } from '../../src/session/SessionStore.ts';
import {
  addCrop,
  changeKeepClear,
  FIRST_CLEAR_RADIUS_MM,
  MOST_CROPS,
  removeCrop,
  removeKeepClear,
  repairBehind,
  replaceCrop,
  setBoard,
  setMended,
  setScale,
  setTrueLength,
  setTurn,
  setUnit,
} from '../../src/session/scanActions.ts';
import { readViewPrefs } from '../../src/session/ViewPrefs.ts';
import { fakePlan } from './fakeAnswer.ts';

/** Applies actions one after another; each result must still be a plan that can be written and opened again. */
function run(...edits: PlanEdit[]): PlanDocument {
  let plan = fakePlan();
  for (const edit of edits) {
    const before = JSON.stringify(plan);
    const next = edit(plan);
    expect(JSON.stringify(plan)).toBe(before);
    expect(parsePlan(JSON.parse(JSON.stringify(next)))).toEqual(next);
    plan = next;
  }
  return plan;
}

const line = [
  [0, 0, 0],
  [0, 0, 10],
  [5, 0, 0],
] as const;

describe('actions on the plan', () => {
  it('scan: a repair left undone once, and done again', () => {
    const left = [setMended('holes-filled', false), setMended('crumbs-dropped', false)];
    expect(run(...left, setMended('holes-filled', false)).scan.leave).toEqual([
      'crumbs-dropped',
      'holes-filled',
    ]);
    expect(run(...left, setMended('holes-filled', true)).scan.leave).toEqual(['crumbs-dropped']);
    expect(repairBehind('left-holes-filled')).toEqual({ repair: 'holes-filled', isLeft: true });
    expect(repairBehind('crumbs-dropped')).toEqual({ repair: 'crumbs-dropped', isLeft: false });
    expect(repairBehind('faces-turned')).toBeNull();
  });

  it('scan: unit, turn, board, level cut, true length', () => {
    const plan = run(
      setUnit('in'),
      setTurn(-90),
      setBoard(12),
      addCrop({ normal: [1, 0, 0], offsetMm: 5 }),
      addCrop({ normal: [0, 0, -1], offsetMm: -6 }),
      replaceCrop(1, { normal: [0, 0, -1], offsetMm: -8 }),
      removeCrop(0),
      setTrueLength(100, 250),
    );
    expect(plan.scan.unit).toBe('in');
    expect(plan.scan.turnDeg).toBe(270);
    expect(plan.scan.board).toBe(30);
    expect(plan.scan.crops).toHaveLength(1);
    // Kept is where normal . x <= offset: 8 mm grown with the mould to 20: a point 21 mm up stays, one 19 mm up goes.
    const [{ normal, offsetMm }] = plan.scan.crops;
    expect(normal[2] * 21 <= offsetMm).toBe(true);
    expect(normal[2] * 19 <= offsetMm).toBe(false);
    expect(plan.scan.scale).toBeCloseTo(2.5, 12);
    const full = run(
      ...Array.from({ length: MOST_CROPS + 1 }, (_, i) => addCrop({ normal: [0, 0, 1], offsetMm: i })),
    );
    expect(full.scan.crops).toHaveLength(MOST_CROPS);
    expect(run(setTrueLength(100, 250), setUnit('mm')).scan.scale).toBe(1);
  });

  it('scan: what was drawn stays on its spot when the size changes; a guessed unit is then written down', () => {
    const drawn = [
      setUnit('auto'),
      startClearArea([[10, 20, 30]], FIRST_CLEAR_RADIUS_MM),
      addLine(line, false),
    ];
    const scaled = run(...drawn, setTrueLength(100, 50, 'm'));
    expect(scaled.scan).toMatchObject({ unit: 'm', scale: 0.5 });
    expect(scaled.scan.keepClear).toEqual([
      { name: 'Clear 1', dabsMm: [[5, 10, 15]], radiusMm: FIRST_CLEAR_RADIUS_MM / 2 },
    ]);
    expect(scaled.parting.lines).toMatchObject([{ points: [line[0], [0, 0, 5], [2.5, 0, 0]] }]);
    // 1 cm is 10 mm, 1 inch is 25.4 mm exactly (NIST Handbook 44, Appendix C).
    const inches = run(
      setUnit('cm'),
      setScale(2),
      startClearArea([[10, 20, 30]], FIRST_CLEAR_RADIUS_MM),
      setUnit('in'),
    );
    expect(inches.scan).toMatchObject({ unit: 'in', scale: 1 });
    expect(inches.scan.keepClear[0].dabsMm[0][0]).toBeCloseTo((10 * 25.4) / 20, 12);
    const named = run(
      startClearArea([[1, 2, 3]], FIRST_CLEAR_RADIUS_MM),
      changeKeepClear(0, { name: 'Pour', radiusMm: 40 }),
    );
    expect(named.scan.keepClear[0]).toMatchObject({ name: 'Pour', radiusMm: 40 });
    expect(
      run(startClearArea([[1, 2, 3]], FIRST_CLEAR_RADIUS_MM), changeKeepClear(0, { radiusMm: 0 })).scan
        .keepClear[0].radiusMm,
    ).toBe(FIRST_CLEAR_RADIUS_MM);
    expect(
      run(startClearArea([[1, 2, 3]], FIRST_CLEAR_RADIUS_MM), removeKeepClear(0)).scan.keepClear,
    ).toEqual([]);
  });

  it('coats: thickness, order, adding, the last one stays', () => {
    const names = fakePlan().coats.map((c) => c.name);
    const moved = run(moveCoat(0, 1));
    expect(moved.coats.map((c) => c.name).slice(0, 2)).toEqual([names[1], names[0]]);
    expect(run(moveCoat(0, -1)).coats.map((c) => c.name)).toEqual(names);
    expect(run(addCoat()).coats).toHaveLength(names.length + 1);
    expect(run(...names.map(() => removeCoat(0))).coats).toHaveLength(1);
    expect(run(setCoatThickness(0, 0)).coats[0].thicknessMm).toBe(fakePlan().coats[0].thicknessMm);
    expect(totalThicknessMm(run(setCoatThickness(0, 4)).coats)).toBeCloseTo(
      totalThicknessMm(fakePlan().coats) + 4 - fakePlan().coats[0].thicknessMm,
      12,
    );
  });

  it('parting: a drawn line replaces the suggested, points move and go, the last line brings the suggestion back', () => {
    const drawn = run(addLine(line, false));
    expect(drawn.parting.lines).toHaveLength(1);
    const two = run(addLine(line, false), addLine(line, true));
    const ids = two.parting.lines === 'auto' ? [] : two.parting.lines.map((l) => l.id);
    expect(new Set(ids).size).toBe(2);
    const moved = run(addLine(line, false), movePoint(0, 1, [1, 2, 3]));
    expect(moved.parting.lines).toMatchObject([
      {
        points: [
          [0, 0, 0],
          [1, 2, 3],
          [5, 0, 0],
        ],
      },
    ]);
    expect(run(addLine(line, false), removePoint(0, 1)).parting.lines).toMatchObject([
      { points: [line[0], line[2]] },
    ]);
    expect(run(addLine(line, true), removePoint(0, 1)).parting.lines).toBe('auto');
    expect(run(addLine(line, false), removeLine(0)).parting.lines).toBe('auto');
    const left = { id: 'A', anchorMm: [-5, 0, 5], name: 'left', pull: [-1, 0, 0] } as const;
    const now = { lines: [{ id: 'x', points: line, closed: false }], pieces: [left] };
    expect(run(adoptLines(now)).parting).toMatchObject({
      lines: now.lines,
      pieces: [{ anchorMm: left.anchorMm, name: 'left', pull: left.pull }],
    });
    expect(run(addLine(line, true), adoptLines(now)).parting).toEqual(run(addLine(line, true)).parting);
    expect(run(adoptLines(null)).parting.lines).toBe('auto');
    expect(run(addLine(line, false), setPieceCount(3)).parting).toMatchObject({
      pieceCount: 3,
      lines: 'auto',
    });
    expect(run(setFlange(null)).parting.flange).toBeNull();
    expect(run(setFlange({ widthMm: 0, thicknessMm: 5 })).parting.flange).toEqual(fakePlan().parting.flange);
  });
});

describe('readViewPrefs', () => {
  it('takes what is sound and replaces what is not', () => {
    const prefs = readViewPrefs({
      stage: 'coats',
      units: 'furlongs',
      apart: 7,
      sectionAt: 0.25,
      isSectionOn: true,
    });
    expect(prefs).toMatchObject({
      stage: 'coats',
      units: 'metric',
      apart: 0,
      sectionAt: 0.25,
      isSectionOn: true,
    });
    expect(readViewPrefs(null).stage).toBe(readViewPrefs('x').stage);
  });
});
