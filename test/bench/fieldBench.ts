import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { makeBandSource } from '../../src/core/field/BandSource.ts';
import { buildBandField } from '../../src/core/field/buildBandField.ts';
import { between, sumRunning, TABLE_WIDTH } from '../../src/core/field/CoatTable.ts';
import { tabulateBricks } from '../../src/core/field/tabulateBricks.ts';
import type { PreparedScan } from '../../src/core/mesh/PreparedScan.ts';
import { prepareScan } from '../../src/core/mesh/prepareScan.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { octasphere } from '../fixtures/shapes.ts';

/**
 * `npm run bench -- field`: the field and the coats' volumes, from the prepared scan on, on one thread; and, when
 * SCUTE_PEER names a program that answers `MESH CELL d0,d1,... --threads N [--base Z]` with a line of JSON (t_sdf and t_int
 * in seconds, layers in mm3), that program in turn with it, on two threads. Times: median of five, least and greatest, and
 * the ratio. The processor's time stands beside the clock's, which says little on a machine that others use.
 */
const RUNS = 5;
const LEVELS_MM = [0, 1.5, 3.5, 6.5, 9.5];
const KNOT_CELLS = 0.5;
const PEER_THREADS = 2;

interface Case {
  readonly name: string;
  readonly scan: PreparedScan;
  readonly cellMm: number;
}

interface Took {
  readonly ms: number;
  readonly cpuMs: number;
  readonly coatsMm3: readonly number[];
}

export async function benchField(): Promise<void> {
  const peer = process.env.SCUTE_PEER;
  const folder = mkdtempSync(join(tmpdir(), 'scute-bench-'));
  try {
    for (const one of await cases()) {
      const file = join(folder, 'body.stl');
      if (peer) writeFileSync(file, writeStl(one.scan.mesh));
      const own: Took[] = [];
      const theirs: Took[] = [];
      await takeOwn(one);
      for (let run = 0; run < RUNS; run++) {
        own.push(await takeOwn(one));
        if (peer) theirs.push(takePeer(peer, file, one));
      }
      report(one, own, theirs);
    }
    console.log(`most memory held: ${Math.round(process.resourceUsage().maxRSS / 1024)} MB`);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

async function cases(): Promise<Case[]> {
  const sphere = async (n: number): Promise<PreparedScan> => prepared(octasphere(100, n), 'none');
  const [tiny, small, large, largest] = await Promise.all([
    sphere(50),
    sphere(112),
    sphere(354),
    sphere(500),
  ]);
  const goblet = await openMesh(
    new Uint8Array(readFileSync(new URL('../fixtures/goblet.stl', import.meta.url))),
    'goblet.stl',
  );
  return [
    { name: 'sphere, 20 000 triangles, 2 mm', scan: tiny, cellMm: 2 },
    { name: 'sphere, 100 000 triangles, 1 mm', scan: small, cellMm: 1 },
    { name: 'sphere, 1 million triangles, 2 mm', scan: large, cellMm: 2 },
    { name: 'sphere, 1 million triangles, 1 mm', scan: large, cellMm: 1 },
    { name: 'sphere, 1 million triangles, 0.5 mm', scan: large, cellMm: 0.5 },
    { name: 'sphere, 2 million triangles, 1 mm', scan: largest, cellMm: 1 },
    { name: 'goblet scan, 1 mm', scan: await prepared(goblet.mesh, 'auto'), cellMm: 1 },
  ];
}

function prepared(mesh: TriMesh, board: 'none' | 'auto'): Promise<PreparedScan> {
  return prepareScan(mesh, { ...newPlan('bench.stl').scan, board }, [], new Checkpoint(), 'mm');
}

async function takeOwn({ scan, cellMm }: Case): Promise<Took> {
  const cp = new Checkpoint();
  const cpu = process.cpuUsage();
  const start = performance.now();
  const source = makeBandSource(scan);
  const bandMm = LEVELS_MM[LEVELS_MM.length - 1];
  const grid = await buildBandField(source, cellMm, bandMm, scan.volumeMm3 !== null, cp);
  const steps = Math.ceil(bandMm / (cellMm * KNOT_CELLS));
  const knotMm = bandMm / steps;
  const tables = await tabulateBricks(grid, source, knotMm, steps + 1, cp);
  const rows = new Float64Array((steps + 1) * TABLE_WIDTH);
  for (let at = 0; at < tables.rows.length; at += rows.length) {
    for (let n = 0; n < rows.length; n++) rows[n] += tables.rows[at + n];
  }
  sumRunning(rows);
  const table = { knotMm, knotCount: steps + 1, rows };
  const coatsMm3 = LEVELS_MM.slice(1).map((to, n) => between(table, LEVELS_MM[n], to)[0]);
  const { user, system } = process.cpuUsage(cpu);
  return { ms: performance.now() - start, cpuMs: (user + system) / 1000, coatsMm3 };
}

function takePeer(program: string, file: string, { scan, cellMm }: Case): Took {
  const base = scan.standsOnBoard ? ['--base', '0'] : [];
  const words = [file, String(cellMm), LEVELS_MM.join(','), '--threads', String(PEER_THREADS), ...base];
  const answer = JSON.parse(execFileSync(program, words, { encoding: 'utf8' }));
  return { ms: 1000 * (answer.t_sdf + answer.t_int), cpuMs: Number.NaN, coatsMm3: answer.layers };
}

function report({ name }: Case, own: readonly Took[], theirs: readonly Took[]): void {
  console.log(
    `${name.padEnd(38)} ${spread(own.map((took) => took.ms))}, processor ${spread(own.map((took) => took.cpuMs))}`,
  );
  if (theirs.length === 0) return;
  const ratio = median(theirs.map((took) => took.ms)) / median(own.map((took) => took.ms));
  const apart = own[0].coatsMm3.map((mm3, n) => ((mm3 / theirs[0].coatsMm3[n] - 1) * 1e4).toFixed(1));
  console.log(`  peer, ${PEER_THREADS} threads`.padEnd(38), spread(theirs.map((took) => took.ms)));
  console.log(`  ${ratio.toFixed(1)} times as fast; coats differ by ${apart.join(', ')} in ten thousand`);
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1];
}

function spread(values: readonly number[]): string {
  return `${Math.round(median(values))} ms (${Math.round(Math.min(...values))} to ${Math.round(Math.max(...values))})`;
}
