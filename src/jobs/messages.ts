import type { Vec3 } from '../core/mesh/TriMesh.ts';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import type {
  JobFailure,
  LinePicture,
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
  | { readonly kind: 'section'; readonly plane: SectionPlane };

/** What a job came to. */
export type JobOutput =
  | { readonly kind: 'opened'; readonly scan: OpenedScan }
  | { readonly kind: 'planned' }
  | { readonly kind: 'path'; readonly line: LinePicture }
  | { readonly kind: 'section'; readonly picture: SectionPicture };

/** An answer as the worker sends it. `geometry` null: as in the answer before; numbers come before the pictures are drawn. */
export type WorkerAnswer = Omit<PlanAnswer, 'geometry'> & { readonly geometry: PlanGeometry | null };

export type ToWorker =
  | { readonly kind: 'job'; readonly id: number; readonly input: JobInput }
  | { readonly kind: 'cancel'; readonly id: number };

/** Every message carries the id of its job. A cancelled job ends without a message: nobody waits for it. */
export type ToPage =
  | { readonly kind: 'progress'; readonly id: number; readonly fraction: number; readonly phase: string }
  | { readonly kind: 'answer'; readonly id: number; readonly answer: WorkerAnswer }
  | { readonly kind: 'done'; readonly id: number; readonly output: JobOutput }
  | { readonly kind: 'failed'; readonly id: number; readonly failure: JobFailure };
