import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runPlan } from '../../src/core/computePlan.ts';
import { surfaceOnly } from '../../src/core/field/BandSource.ts';
import type { PreparedScan } from '../../src/core/mesh/PreparedScan.ts';
import type { TriMesh } from '../../src/core/mesh/TriMesh.ts';
import { newPlan } from '../../src/core/plan/newPlan.ts';
import type { PlanDocument, ScanPlan } from '../../src/core/plan/PlanDocument.ts';
import { plainCoat } from '../../src/core/plan/plainCoat.ts';
import { openMesh } from '../../src/io/openMesh.ts';
import { writeStl } from '../../src/io/writeStl.ts';
import { extrapolate, levelSetCoats, type Referred } from '../published/levelSetReference.ts';

/**
 * `npm run bench -- references [folder of scans]`: the coats of open scans beside two other programs, each with its own way to the
 * same volumes: manifold-3d (`levelSetCoats`) and, when SCUTE_PEER names it, the program of `fieldBench.ts` over OpenVDB. Both take
 * the prepared surface, so that reading and mending are not compared. A difference is inside when it is within the plan's
 * `volumeErrorMm3` and the error that the other program's two grids show together.
 */
const LEVELS_MM = [0, 1.5, 3.5, 6.5, 9.5];
/** OpenVDB's grids, as parts of the plan's cell: it takes directions from neighbours' values, so that it needs finer ones to say as much. */
const PEER_FINE = 1 / 3;
const PEER_COARSE = 2 / 3;
const PEER_THREADS = 2;

/** The scans, and to what they are scaled; those that are not among the fixtures are looked for in the folder. */
const SCANS: readonly { readonly file: string; readonly scan: Partial<ScanPlan> }[] = [
  { file: 'goblet.stl', scan: { unit: 'mm' } },
  { file: 'holes-binary-solid.stl', scan: { unit: 'mm' } },
  { file: 'goat-head.stl', scan: { unit: 'mm', scale: 15 } },
  { file: 'venus.stl', scan: { unit: 'mm', scale: 0.25 } },
  { file: 'dancing-girl.stl', scan: { unit: 'm', scale: 0.25 } },
  { file: 'raw-scan-on-table.ply', scan: { unit: 'mm' } },
  { file: 'demosthenes.ply', scan: { unit: 'mm', scale: 186 } },
];

interface Row {
  readonly what: string;
  readonly volumeMm3: number;
  readonly errorMm3: number;
}

export async function benchReferences(folder: string | undefined): Promise<void> {
  const peer = process.env.SCUTE_PEER;
  const work = mkdtempSync(join(tmpdir(), 'scute-references-'));
  let outside = 0;
  try {
    console.log(
      `| scan | coat, mm | Scute, mm³ | manifold-3d | off, % | of the bound |${peer ? ' OpenVDB | off, % | of the bound |' : ''} inside |`,
    );
    console.log(`| --- | --- | ---: | ---: | ---: | ---: |${peer ? ' ---: | ---: | ---: |' : ''} --- |`);
    for (const { file, scan } of SCANS) {
      const path = findScan(file, folder);
      if (!path) {
        console.error(`${file}: not in the folder given, left out`);
        continue;
      }
      outside += await tellScan(path, file, scan, peer, work);
    }
    if (outside > 0) process.exitCode = 1;
    console.log(outside === 0 ? 'every difference is inside' : `${outside} differences are outside`);
  } finally {
    rmSync(work, { recursive: true });
  }
}

/** Prints the rows of a scan and returns how many differences are outside. */
async function tellScan(
  path: string,
  file: string,
  scanPlan: Partial<ScanPlan>,
  peer: string | undefined,
  work: string,
): Promise<number> {
  const started = performance.now();
  const { mesh } = await openMesh(new Uint8Array(readFileSync(path)), file);
  const { result, scan } = await runPlan(planOf(file, scanPlan), mesh, { until: 'amounts' });
  const plannedMs = performance.now() - started;
  if (scan.volumeMm3 === null) {
    console.error(`${file}: left out, its mended surface is not closed`);
    return 0;
  }
  const { resolutionMm: cellMm, shell } = result;
  const rows: Row[] = result.pieces[0].coats.map((coat) => ({
    what: `${coat.fromMm} to ${coat.toMm}`,
    volumeMm3: coat.volumeMm3,
    errorMm3: coat.volumeErrorMm3,
  }));
  rows.push({ what: 'all', volumeMm3: shell.volumeMm3, errorMm3: shell.volumeErrorMm3 });
  const references = [await levelSetCoats(scan, LEVELS_MM, cellMm)];
  const referredMs = performance.now() - started - plannedMs;
  if (peer) references.push(peerCoats(peer, scan, cellMm, join(work, 'body.stl')));
  let outside = 0;
  rows.forEach((row, n) => {
    const compared = references.map((coats) => compare(row, coats[n]));
    outside += compared.filter(({ isInside }) => !isInside).length;
    const name = n === 0 ? `${file}, ${scan.mesh.indices.length / 3} triangles, cells of ${cellMm} mm` : '';
    const others = compared.map(({ words }) => words).join(' | ');
    const verdict = compared.every(({ isInside }) => isInside) ? 'yes' : 'NO';
    console.log(
      `| ${name} | ${row.what} | ${told(row.volumeMm3)} ± ${told(row.errorMm3)} | ${others} | ${verdict} |`,
    );
  });
  console.error(
    `${file}: planned in ${Math.round(plannedMs)} ms, manifold-3d took ${Math.round(referredMs)} ms, whole shell of ${result.pieces.length} piece`,
  );
  return outside;
}

function compare(row: Row, other: Referred): { isInside: boolean; words: string } {
  const offMm3 = row.volumeMm3 - other.volumeMm3;
  return {
    isInside: Math.abs(offMm3) <= row.errorMm3 + other.errorMm3,
    words: [
      `${told(other.volumeMm3)} ± ${told(other.errorMm3)}`,
      ((100 * offMm3) / other.volumeMm3).toFixed(4),
      (Math.abs(offMm3) / row.errorMm3).toFixed(2),
    ].join(' | '),
  };
}

/** One piece without a flange, so that the coats are the whole shell; the board as it is found. */
function planOf(file: string, scan: Partial<ScanPlan>): PlanDocument {
  const plan = newPlan(file);
  return {
    ...plan,
    scan: { ...plan.scan, ...scan },
    parting: { ...plan.parting, pieceCount: 1, flange: null },
    coats: LEVELS_MM.slice(1).map((to, n) => plainCoat(`Coat ${n + 1}`, 'build', to - LEVELS_MM[n])),
  };
}

function findScan(file: string, folder: string | undefined): string | undefined {
  const fixtures = new URL('../fixtures/', import.meta.url).pathname;
  return [fixtures, folder].flatMap((at) => (at ? [join(at, file)] : [])).find((path) => existsSync(path));
}

/** The program's coats, from two grids; last, all of them together. */
function peerCoats(program: string, scan: PreparedScan, cellMm: number, file: string): Referred[] {
  writeFileSync(file, writeStl(scan.standsOnBoard ? withMirrorImage(surfaceOnly(scan)) : scan.mesh));
  const base = scan.standsOnBoard ? ['--base', '0'] : [];
  const layersMm3 = (cell: number): number[] => {
    const words = [file, String(cell), LEVELS_MM.join(','), '--threads', String(PEER_THREADS), ...base];
    return JSON.parse(execFileSync(program, words, { encoding: 'utf8' })).layers;
  };
  const withSum = (layers: number[]): number[] => [...layers, layers.reduce((sum, mm3) => sum + mm3, 0)];
  const fine = withSum(layersMm3(cellMm * PEER_FINE));
  const coarse = withSum(layersMm3(cellMm * PEER_COARSE));
  return fine.map((mm3, n) => extrapolate(mm3, coarse[n], PEER_COARSE / PEER_FINE));
}

/** The program takes closed meshes: what is open on the board is closed by its own image in it, which no point above is nearer to. */
function withMirrorImage({ positions, indices }: TriMesh): TriMesh {
  const shift = positions.length / 3;
  return {
    positions: Float64Array.from([...positions, ...positions.map((x, n) => (n % 3 === 2 ? -x : x))]),
    indices: Uint32Array.from([...indices, ...indices.toReversed().map((v) => v + shift)]),
  };
}

function told(mm3: number): string {
  return mm3 < 100 ? mm3.toFixed(1) : Math.round(mm3).toLocaleString('en');
}
