import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { SnappedPoint, SnapTo } from '../core/parting/draw/SnappedPoint.ts';
import type { PullChart } from '../core/parting/pulls/PullChart.ts';
import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import type {
  BundleParts,
  DrawnSides,
  JobFailure,
  LinePicture,
  MapAsk,
  MapPicture,
  OpenedScan,
  PlanAnswer,
  PlanGeometry,
  SectionPicture,
  SectionPlane,
} from './protocol.ts';

/** What a job is to do. */
export type JobInput =
  | { readonly kind: 'open'; readonly name: string; readonly bytes: ArrayBuffer }
  | { readonly kind: 'plan'; readonly plan: PlanDocument; readonly revision: number }
  | { readonly kind: 'path'; readonly points: readonly Vec3[]; readonly closed: boolean }
  | { readonly kind: 'section'; readonly plane: SectionPlane }
  | { readonly kind: 'chart'; readonly of: PullChart['of'] }
  | { readonly kind: 'suggest'; readonly plan: PlanDocument; readonly pieceCounts: readonly number[] }
  | {
      readonly kind: 'snap';
      readonly point: Vec3;
      readonly to: readonly SnapTo[];
      readonly reachMm: number;
    }
  | { readonly kind: 'smooth'; readonly points: readonly Vec3[]; readonly closed: boolean }
  | { readonly kind: 'map'; readonly ask: MapAsk }
  | { readonly kind: 'sides'; readonly widthPx: number }
  | { readonly kind: 'bundle'; readonly parts: BundleParts }
  | { readonly kind: 'unbundle'; readonly name: string; readonly bytes: ArrayBuffer };

/** What a job came to. */
export type JobOutput =
  | { readonly kind: 'opened'; readonly scan: OpenedScan }
  | { readonly kind: 'planned' }
  | { readonly kind: 'path'; readonly line: LinePicture }
  | { readonly kind: 'section'; readonly picture: SectionPicture }
  | { readonly kind: 'chart'; readonly chart: PullChart }
  | { readonly kind: 'suggested' }
  | { readonly kind: 'snap'; readonly snapped: SnappedPoint }
  | { readonly kind: 'smooth'; readonly points: readonly Vec3[] }
  | { readonly kind: 'map'; readonly picture: MapPicture }
  | { readonly kind: 'sides'; readonly drawn: DrawnSides }
  | { readonly kind: 'bundle'; readonly bytes: ArrayBuffer }
  | { readonly kind: 'unbundle'; readonly parts: BundleParts };

/** An answer as the worker sends it. `geometry` null: as in the answer before; numbers come before the pictures are drawn. */
export type WorkerAnswer = Omit<PlanAnswer, 'geometry'> & { readonly geometry: PlanGeometry | null };

export type ToWorker =
  | { readonly kind: 'job'; readonly id: number; readonly input: JobInput }
  | { readonly kind: 'cancel'; readonly id: number };

/** Every message carries the id of its job. A cancelled job ends without a message: nobody waits for it. */
export type ToPage =
  | { readonly kind: 'progress'; readonly id: number; readonly fraction: number; readonly phase: string }
  | { readonly kind: 'answer'; readonly id: number; readonly answer: WorkerAnswer }
  | { readonly kind: 'suggestions'; readonly id: number; readonly suggestions: readonly Suggestion[] }
  | { readonly kind: 'done'; readonly id: number; readonly output: JobOutput }
  | { readonly kind: 'failed'; readonly id: number; readonly failure: JobFailure };

/**
 * All that a worker says. 'up' comes once, where the browser has locks: the worker holds the one that bears its name, and that
 * comes free only when the worker ends.
 */
export type FromWorker = ToPage | { readonly kind: 'up' };
