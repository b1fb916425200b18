import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startSlabThread } from '../../src/cli/startSlabThread.ts';
import { Checkpoint } from '../../src/core/checkpoint.ts';
import { makeBandSource } from '../../src/core/field/BandSource.ts';
import { between, sumRunning, TABLE_WIDTH } from '../../src/core/field/CoatTable.ts';
import { makeField } from '../../src/core/field/slabs/makeField.ts';
import { SINGLE_RUNNER, type SlabRunner } from '../../src/core/field/slabs/SlabRunner.ts';
import type { PreparedScan } from '../../src/core/mesh/PreparedScan.ts';
import { prepareScan } from '../../src/core/mesh/prepareScan.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { boundingBox } from '../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { SlabPool } from '../../src/jobs/slabs/SlabPool.ts';
import { octasphere } from '../fixtures/shapes.ts';

/**
 * `npm run bench -- field [folder of scans]`: the field and the coats' volumes, from the prepared scan on, on one thread and on two
 * (both awake); and, when SCUTE_PEER names a program that answers `MESH CELL d0,d1,... --threads N [--base Z]` with a line of JSON
 * (t_sdf and t_int in seconds, layers in mm3), that program in turn with them, on two threads. Then the command, started cold, beside
 * it; then what a field costs by triangles and cell. Times: median of five, least and greatest, and the ratio. The processor's time
 * stands beside the clock's, which says little on a machine that others use.
 */
const RUNS = 5;
/** Of the table of costs, which only shows how they grow. */
const GRID_RUNS = 3;
const LEVELS_MM = [0, 1.5, 3.5, 6.5, 9.5];
const KNOT_CELLS = 0.5;
const PEER_THREADS = 2;
const COMMAND = new URL('../../src/cli/main.ts', import.meta.url).pathname;

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

export async function benchField(scansIn: string | undefined): Promise<void> {
  const peer = process.env.SCUTE_PEER;
  const folder = mkdtempSync(join(tmpdir(), 'scute-bench-'));
  const pool = new SlabPool(startSlabThread, 1);
  try {
    const ball = await spheres();
    for (const one of [...sphereCases(ball), ...(await scanCases(scansIn))]) {
      await besidePeer(one, pool, peer, join(folder, 'body.stl'));
    }
    await commandCold(ball[354], peer, join(folder, 'million.stl'));
    await tableOfCosts(ball, pool);
    console.log(`most memory held: ${Math.round(process.resourceUsage().maxRSS / 1024)} MB`);
  } finally {
    pool.dispose();
    rmSync(folder, { recursive: true });
  }
}

/** Spheres of 200 mm across by their divisions: 20 000, 100 352, 1 002 528 and 2 000 000 triangles. */
async function spheres(): Promise<Record<50 | 112 | 354 | 500, PreparedScan>> {
  const sphere = (n: number): Promise<PreparedScan> => prepared(octasphere(100, n), 'none');
  return { 50: await sphere(50), 112: await sphere(112), 354: await sphere(354), 500: await sphere(500) };
}

function sphereCases(ball: Record<50 | 112 | 354 | 500, PreparedScan>): Case[] {
  return [
    { name: 'sphere, 20 000 triangles, 2 mm', scan: ball[50], cellMm: 2 },
    { name: 'sphere, 100 000 triangles, 1 mm', scan: ball[112], cellMm: 1 },
    { name: 'sphere, 1 million triangles, 1 mm', scan: ball[354], cellMm: 1 },
    { name: 'sphere, 1 million triangles, 0.5 mm', scan: ball[354], cellMm: 0.5 },
    { name: 'sphere, 2 million triangles, 1 mm', scan: ball[500], cellMm: 1 },
  ];
}

/** The fixture's goblet, and every scan of a folder that is closed or stands on its board, 250 mm in size, at 1 mm. */
async function scanCases(folder: string | undefined): Promise<Case[]> {
  const fixtures = new URL('../fixtures/', import.meta.url).pathname;
  const files = [join(fixtures, 'goblet.stl'), join(fixtures, 'demosthenes.ply')];
  if (folder) {
    for (const name of readdirSync(folder)) if (/\.(stl|ply)$/i.test(name)) files.push(join(folder, name));
  }
  const cases: Case[] = [];
  for (const file of files) {
    const name = file.split('/').pop() as string;
    if (cases.some((known) => known.name.startsWith(name))) continue;
    try {
      const { mesh } = await openMesh(new Uint8Array(readFileSync(file)), name);
      const scan = await prepared(sized(mesh, 250), 'auto');
      const count = scan.mesh.indices.length / 3;
      if (scan.volumeMm3 !== null) cases.push({ name: `${name}, ${count} triangles, 1 mm`, scan, cellMm: 1 });
    } catch (error) {
      console.log(`${name}: left out, ${error instanceof Error ? error.message : String(error)}`);
    }
  }
  return cases;
}

function sized(mesh: TriMesh, longestMm: number): TriMesh {
  const { min, max } = boundingBox(mesh);
  const scale = longestMm / Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  return { positions: mesh.positions.map((x) => x * scale), indices: mesh.indices };
}

function prepared(mesh: TriMesh, board: 'none' | 'auto'): Promise<PreparedScan> {
  return prepareScan(mesh, { ...newPlan('bench.stl').scan, board }, [], new Checkpoint(), 'mm');
}

async function besidePeer(
  one: Case,
  pool: SlabRunner,
  peer: string | undefined,
  file: string,
): Promise<void> {
  if (peer) writeFileSync(file, writeStl(one.scan.mesh));
  const single: Took[] = [];
  const double: Took[] = [];
  const theirs: Took[] = [];
  await takeOwn(one, SINGLE_RUNNER);
  await takeOwn(one, pool);
  for (let run = 0; run < RUNS; run++) {
    single.push(await takeOwn(one, SINGLE_RUNNER));
    if (peer) theirs.push(takePeer(peer, file, one));
    double.push(await takeOwn(one, pool));
  }
  console.log(one.name);
  console.log(`  one thread    ${spread(single)}, processor ${spreadOf(single.map((took) => took.cpuMs))}`);
  console.log(`  two threads   ${spread(double)}, ${ratio(single, double)} times as fast as one`);
  if (theirs.length === 0) return;
  const apart = single[0].coatsMm3.map((mm3, n) => ((mm3 / theirs[0].coatsMm3[n] - 1) * 1e4).toFixed(1));
  console.log(`  peer, ${PEER_THREADS} threads ${spread(theirs)}`);
  console.log(
    `  ${ratio(theirs, single)} times as fast on one, ${ratio(theirs, double)} on two; coats differ by ${apart.join(', ')} in ten thousand`,
  );
}

async function takeOwn({ scan, cellMm }: Case, runner: SlabRunner): Promise<Took> {
  const cpu = process.cpuUsage();
  const start = performance.now();
  const source = makeBandSource(scan);
  const bandMm = LEVELS_MM[LEVELS_MM.length - 1];
  const steps = Math.ceil(bandMm / (cellMm * KNOT_CELLS));
  const knotMm = bandMm / steps;
  const order = { cellMm, bandMm, isClosed: scan.volumeMm3 !== null, knotMm, knotCount: steps + 1 };
  const { tables } = await makeField(source, order, runner, new Checkpoint());
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

/** `scute plan` in a process of its own, one piece and two: the field and the coats, as it tells their times itself. */
async function commandCold(scan: PreparedScan, peer: string | undefined, file: string): Promise<void> {
  writeFileSync(file, writeStl(scan.mesh));
  const coats = LEVELS_MM.slice(1).map((to, n) => `${to - LEVELS_MM[n]}mm`);
  const words = ['plan', file, '--unit', 'mm', '--board', 'none', '--resolution', '1mm'];
  const takeCommand = (pieces: number): Took => {
    const own = [...words, '--pieces', String(pieces), '--coats', coats.join(','), '--json', '--quiet'];
    const args = ['--import', 'tsx', COMMAND, ...own];
    const answer = JSON.parse(execFileSync(process.execPath, args, { encoding: 'utf8', maxBuffer: 1e9 }));
    return { ms: answer.timesMs.field + answer.timesMs.coats, cpuMs: Number.NaN, coatsMm3: [] };
  };
  const one: Took[] = [];
  const two: Took[] = [];
  const theirs: Took[] = [];
  for (let run = 0; run < RUNS; run++) {
    one.push(takeCommand(1));
    if (peer) theirs.push(takePeer(peer, file, { name: '', scan, cellMm: 1 }));
    two.push(takeCommand(2));
  }
  console.log('the command, started cold, 1 million triangles, 1 mm: timesMs.field + timesMs.coats');
  console.log(`  one piece     ${spread(one)}`);
  console.log(`  two pieces    ${spread(two)}, ${ratio(two, one)} times as long`);
  if (peer)
    console.log(
      `  peer, ${PEER_THREADS} threads ${spread(theirs)}, ${ratio(theirs, one)} times as fast on one piece`,
    );
}

/** What a field costs, on two threads: it grows with the area over the square of the cell, and little with the triangles. */
async function tableOfCosts(
  ball: Record<50 | 112 | 354 | 500, PreparedScan>,
  pool: SlabRunner,
): Promise<void> {
  console.log('two threads, median of three, ms: triangles by cell 2 mm, 1 mm, 0.5 mm');
  for (const scan of Object.values(ball)) {
    const row: string[] = [];
    for (const cellMm of [2, 1, 0.5]) {
      const took: Took[] = [];
      await takeOwn({ name: '', scan, cellMm }, pool);
      for (let run = 0; run < GRID_RUNS; run++) took.push(await takeOwn({ name: '', scan, cellMm }, pool));
      row.push(String(Math.round(median(took.map(({ ms }) => ms)))).padStart(8));
    }
    console.log(`  ${String(scan.mesh.indices.length / 3).padStart(8)} ${row.join('')}`);
  }
}

function ratio(slow: readonly Took[], fast: readonly Took[]): string {
  return (median(slow.map(({ ms }) => ms)) / median(fast.map(({ ms }) => ms))).toFixed(2);
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1];
}

function spread(took: readonly Took[]): string {
  return spreadOf(took.map(({ ms }) => ms));
}

function spreadOf(values: readonly number[]): string {
  return `${Math.round(median(values))} ms (${Math.round(Math.min(...values))} to ${Math.round(Math.max(...values))})`;
}
