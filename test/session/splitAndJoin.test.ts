import { describe, expect, it } from 'vitest';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import type { Vec3 } from '../../src/core/mesh/TriMesh.ts';
import type { PartingLineResult } from '../../src/core/PlanResult.ts';
import { type PartingStep, planParting } from '../../src/core/parting/planParting.ts';
import { SurfaceContext } from '../../src/core/parting/SurfaceContext.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import { joinPieces, type PartingNow, replacePoints, splitPiece } from '../../src/session/partingActions.ts';
import { SessionStore } from '../../src/session/SessionStore.ts';
import { preparedFromMesh } from '../core/parting/preparedFromMesh.ts';
import { openHalfSphere } from '../fixtures/shapes.ts';
import { fakePlan } from './fakeAnswer.ts';

const R = 50;
const dome = new SurfaceContext(preparedFromMesh(openHalfSphere(R, 16), true));

const lay = ({ parting }: PlanDocument): Promise<PartingStep> => planParting(dome, parting, new Checkpoint());

/** What the page knows of an answer. An anchor is the middle of one of the piece's triangles. */
function nowOf(step: PartingStep): PartingNow & { readonly runs: PartingLineResult[] } {
  const { cut, chains, pieces, lines } = step;
  const toPoints = (flat: Float64Array): Vec3[] =>
    Array.from({ length: flat.length / 3 }, (_, i): Vec3 => [flat[3 * i], flat[3 * i + 1], flat[3 * i + 2]]);
  return {
    lines,
    pieces: pieces.map(({ id, name, pull }, region) => {
      const tri = cut.cutTriRegion.indexOf(region);
      const corners = [0, 1, 2].map((k) => 3 * cut.indices[3 * tri + k]);
      const middle = [0, 1, 2].map((k) => corners.reduce((sum, c) => sum + cut.positions[c + k] / 3, 0));
      return { id, name, pull, anchorMm: [middle[0], middle[1], middle[2]] as Vec3 };
    }),
    runs: chains.map((chain) => ({
      between: [pieces[chain.left].id, pieces[chain.right].id],
      lengthMm: chain.lengthMm,
      points: toPoints(chain.points),
    })),
  };
}

const named = (step: PartingStep, name: string) => {
  const piece = step.pieces.find((p) => p.name === name);
  if (!piece) throw new Error(`no piece is called ${name}`);
  return piece;
};

/** Two halves called Nose and Tail, Nose pulled up askew. */
async function twoHalves(): Promise<{ store: SessionStore; step: PartingStep }> {
  const plan = fakePlan();
  const store = new SessionStore({
    ...plan,
    parting: {
      ...plan.parting,
      lines: [
        {
          id: 'line-1',
          closed: false,
          points: [
            [R, 0, 0],
            [0, 0, R],
            [-R, 0, 0],
          ],
        },
      ],
      pieces: [
        { anchorMm: [0, R, 1], name: 'Nose', pull: [0, 0.6, 0.8] },
        { anchorMm: [0, -R, 1], name: 'Tail', pull: null },
      ],
    },
  });
  return { store, step: await lay(store.state.plan) };
}

describe('splitting and joining', () => {
  it('a drawn line cuts one piece in two; the others keep name and pull; undo takes it back at once', async () => {
    const { store, step } = await twoHalves();
    const before = store.state.plan;
    store.edit(
      splitPiece(
        [
          [0, -R, 0],
          [1, -3, R],
        ],
        false,
        nowOf(step),
      ),
    );
    const after = await lay(parsePlan(JSON.parse(JSON.stringify(store.state.plan))));
    expect(after.pieces).toHaveLength(3);
    expect(named(after, 'Nose').pull).toEqual(named(step, 'Nose').pull);
    expect(named(after, 'Tail').pull).toEqual(named(step, 'Tail').pull);
    expect(new Set(after.pieces.map((p) => p.name)).size).toBe(3);
    store.undo();
    expect(store.state.plan).toEqual(before);
  });

  it('joining what was split gives the pieces that were there, with their names', async () => {
    const { store, step } = await twoHalves();
    store.edit(
      splitPiece(
        [
          [0, -R, 0],
          [1, -3, R],
        ],
        false,
        nowOf(step),
      ),
    );
    const split = await lay(store.state.plan);
    const other = split.pieces.find((p) => p.name !== 'Nose' && p.name !== 'Tail');
    if (!other) throw new Error('no third piece');
    const now = nowOf(split);
    store.edit(joinPieces([named(split, 'Tail').id, other.id], now.runs, now));
    const joined = await lay(parsePlan(JSON.parse(JSON.stringify(store.state.plan))));
    expect(joined.pieces.map((p) => p.name).sort()).toEqual(['Nose', 'Tail']);
    expect(named(joined, 'Nose').pull).toEqual(named(step, 'Nose').pull);
    const total = (s: PartingStep): number => s.chains.reduce((sum, c) => sum + c.lengthMm, 0);
    expect(total(joined) / total(step)).toBeCloseTo(1, 3);
  });

  it('a joined piece keeps a pull that the user gave', async () => {
    const { store, step } = await twoHalves();
    store.edit(
      splitPiece(
        [
          [0, R, 0],
          [1, 3, R],
        ],
        false,
        nowOf(step),
      ),
    );
    const split = await lay(store.state.plan);
    const other = split.pieces.find((p) => p.name !== 'Nose' && p.name !== 'Tail');
    const now = nowOf(split);
    store.edit(joinPieces([named(split, 'Nose').id, other?.id ?? ''], now.runs, now));
    expect(named(await lay(store.state.plan), 'Nose').pull[2]).toBeCloseTo(0.8, 12);
  });

  it('joining the last two leaves one piece without a line', async () => {
    const { store, step } = await twoHalves();
    const now = nowOf(step);
    store.edit(joinPieces(['A', 'B'], now.runs, now));
    expect(store.state.plan.parting).toMatchObject({ lines: 'auto', pieceCount: 1 });
    expect((await lay(store.state.plan)).pieces).toHaveLength(1);
  });

  it('changes nothing for pieces that share no line', async () => {
    const { store, step } = await twoHalves();
    const now = nowOf(step);
    const before = store.state.plan;
    store.edit(joinPieces(['A', 'A'], now.runs, now));
    store.edit(joinPieces(['A', 'Z'], now.runs, now));
    expect(store.state.plan).toBe(before);
    expect(store.state.canUndo).toBe(false);
  });

  it('new points for a line, but not too few for one', async () => {
    const { store } = await twoHalves();
    store.edit(
      replacePoints(0, [
        [R, 0, 0],
        [-R, 0, 0],
      ]),
    );
    expect(store.state.plan.parting.lines).toMatchObject([
      {
        id: 'line-1',
        points: [
          [R, 0, 0],
          [-R, 0, 0],
        ],
      },
    ]);
    const plan = store.state.plan;
    store.edit(replacePoints(0, [[R, 0, 0]]));
    expect(store.state.plan).toBe(plan);
  });
});
