import type { Vec3 } from '../core/mesh/TriMesh.ts';

/** A plan as the browser keeps it, without its scan's bytes and its picture. */
export interface KeptPlan {
  readonly id: string;
  /** The job's name, for the list: read without looking into the plan. */
  readonly name: string;
  /** The scan's file name. */
  readonly scanName: string;
  /** Under which the scan's bytes lie; plans of one scan share it. */
  readonly scanKey: string;
  readonly scanBytes: number;
  /** Of the mould as it was last worked out, mm; null before that. */
  readonly sizeMm: Vec3 | null;
  /** ISO 8601. */
  readonly createdAt: string;
  /** When the plan itself was changed last, ISO 8601. */
  readonly changedAt: string;
  /** Rises with every change of the plan: whoever writes says which one the change was made to. */
  readonly revision: number;
  /** When it was thrown away, ISO 8601; null while it is not. It lies in the bin until it is erased. */
  readonly binnedAt: string | null;
  /** Unchecked JSON: whoever opens it validates. */
  readonly plan: unknown;
}

/** A plan to be kept for the first time, with its scan. */
export interface NewKeptPlan {
  readonly name: string;
  readonly scanName: string;
  readonly bytes: ArrayBuffer;
  readonly plan: unknown;
  readonly sizeMm: Vec3 | null;
}

/** What a change of a kept plan writes. */
export type KeptChange = Partial<Pick<KeptPlan, 'name' | 'plan'>>;

/** What is found out about a kept plan without changing it. */
export interface KeptLook {
  readonly sizeMm?: Vec3;
  readonly picture?: Blob;
}

/** Nothing was written: the kept plan is not the one that the change was made to. */
export class KeptPlanMoved extends Error {
  override readonly name = 'KeptPlanMoved';
  constructor(
    /** 'changed': somebody wrote it meanwhile. 'gone': it was thrown away or erased. */
    readonly how: 'changed' | 'gone',
  ) {
    super(how === 'gone' ? 'The kept plan is gone.' : 'The kept plan was changed meanwhile.');
  }
}
