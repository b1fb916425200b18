import { readFileSync } from 'node:fs';
import { Bench } from 'tinybench';
import { type PlanOptions, runPlan } from '../../src/core/computePlan.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { PlanDocument } from '../../src/core/plan/PlanDocument.ts';
import { parsePlan } from '../../src/core/plan/parsePlan.ts';
import { StepCache } from '../../src/core/StepCache.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { octasphere, openHalfSphere } from '../fixtures/shapes.ts';
import { addDrawBench } from './drawBench.ts';
import { benchField } from './fieldBench.ts';
import { benchPage } from './page.ts';
import { addPullsBench } from './pullsBench.ts';
import { benchReferences } from './referenceBench.ts';
import { addSuggestBench } from './suggestBench.ts';
import { undercutBench } from './undercutBench.ts';

/**
 * `npm run bench`: medians of five, with least and greatest, of what the user waits for; `npm run bench -- page`: the page's own
 * figures, in a browser; `npm run bench -- field`: the distance field alone, beside another program's; `npm run bench -- references`:
 * the coats of open scans beside those of two other programs. The demo is the shipped one; the
 * 100 000-triangle body is a half sphere with waves, 200 mm across, standing open on the board.
 */
const RUNS = 5;
if (process.argv[2] === 'page') {
  await benchPage();
  process.exit();
}
if (process.argv[2] === 'field') {
  await benchField(process.argv[3]);
  process.exit();
}
if (process.argv[2] === 'references') {
  await benchReferences(process.argv[3]);
  process.exit();
}
/** The page shows amounts as soon as they stand; undercuts and best pulls follow. */
const AMOUNTS = { until: 'amounts' } as const satisfies PlanOptions;

const demo = {
  mesh: (
    await openMesh(
      new Uint8Array(readFileSync(new URL('../../assets/demo/fountain-fish.ply', import.meta.url))),
      'fountain-fish.ply',
    )
  ).mesh,
  plan: parsePlan(
    JSON.parse(readFileSync(new URL('../../assets/demo/fountain-fish.scute.json', import.meta.url), 'utf8')),
  ),
};
const wavy = {
  mesh: wavyHalfSphere(),
  plan: { ...newPlan('wavy.stl'), resolutionMm: 1 } satisfies PlanDocument,
};
const millionStl = writeStl(octasphere(100, 354));

const bench = new Bench({ iterations: RUNS, time: 0, warmup: true, warmupIterations: 1, warmupTime: 0 });

bench.add('read a binary STL of 1 002 528 triangles', async () => {
  await openMesh(millionStl, 'million.stl');
});
for (const [name, { mesh, plan }] of [
  ['demo', demo],
  ['100 000 triangles at 1 mm', wavy],
] as const) {
  bench.add(`${name}: first plan, amounts`, async () => {
    await runPlan(plan, mesh, AMOUNTS);
  });
  bench.add(`${name}: first plan, undercuts and best pulls too`, async () => {
    await runPlan(plan, mesh);
  });
  await addChanges(name, plan, mesh);
}
await addChanges(
  '1 002 528 triangles at 1 mm',
  { ...newPlan('million.stl'), resolutionMm: 1 },
  octasphere(100, 354),
);

for (const { name, run } of undercutBench()) bench.add(name, run);
addPullsBench(bench);
addSuggestBench(bench);
addDrawBench(bench);

await bench.run();
for (const task of bench.tasks) {
  const { result } = task;
  if (!result || !('latency' in result) || result.error) {
    console.log(`${task.name}: failed, ${String(result?.error)}`);
    process.exitCode = 1;
    continue;
  }
  const { p50, min, max } = result.latency;
  console.log(`${task.name.padEnd(58)} ${ms(p50)}  (${ms(min)} to ${ms(max)})`);
}
console.log(`most memory held: ${Math.round(process.resourceUsage().maxRSS / 1024)} MB`);

function ms(value: number | undefined): string {
  if (value === undefined) return 'not measured';
  return `${value < 100 ? value.toFixed(1) : Math.round(value)} ms`.padStart(9);
}

/** What a user waits for who changes a plan that stands: a coat, a point of the parting line. */
async function addChanges(name: string, plan: PlanDocument, mesh: TriMesh): Promise<void> {
  const cache = new StepCache();
  const { lines } = (await runPlan(plan, mesh, { cache })).parting;
  let thicker = 0;
  const changeCoat = (): PlanDocument => {
    thicker += 0.01;
    const coats = plan.coats.map((coat, n) =>
      n === 1 ? { ...coat, thicknessMm: 2.5 + (thicker % 0.1) } : coat,
    );
    return { ...plan, coats };
  };
  bench.add(`${name}: a coat changed, until its amounts are told`, async () => {
    await tellAmounts(changeCoat(), mesh, cache);
  });
  bench.add(`${name}: the same, until the thin spots stand`, async () => {
    await runPlan(changeCoat(), mesh, { ...AMOUNTS, cache });
  });
  let shift = 0;
  const movePoint = (): PlanDocument => {
    shift = (shift + 0.7) % 5;
    const moved = lines.map((line) => ({
      ...line,
      points: line.points.map((point, n) =>
        n === Math.floor(line.points.length / 2) ? ([point[0] + shift, point[1], point[2]] as const) : point,
      ),
    }));
    return { ...plan, parting: { ...plan.parting, lines: moved } };
  };
  bench.add(`${name}: a point of the parting line moved, until its amounts are told`, async () => {
    await tellAmounts(movePoint(), mesh, cache);
  });
  bench.add(`${name}: the same, until the undercuts stand`, async () => {
    await runPlan(movePoint(), mesh, { until: 'undercuts', cache });
  });
}

/** 2 x 225^2 triangles over the board. */
function wavyHalfSphere(): TriMesh {
  const mesh = openHalfSphere(100, 158);
  const p = mesh.positions.slice();
  for (let i = 0; i < p.length; i += 3) {
    const wave = 1 + 0.05 * Math.sin(p[i] * 0.09) * Math.cos(p[i + 1] * 0.07);
    p[i] *= wave;
    p[i + 1] *= wave;
    p[i + 2] *= wave;
  }
  return { positions: p, indices: mesh.indices };
}

/** A plan until the user sees its amounts; what would come after them is broken off. */
async function tellAmounts(plan: PlanDocument, mesh: TriMesh, cache: StepCache): Promise<void> {
  const told = new AbortController();
  try {
    await runPlan(plan, mesh, { cache, signal: told.signal, onEarlier: () => told.abort() });
  } catch (error) {
    if (!told.signal.aborted) throw error;
  }
}
