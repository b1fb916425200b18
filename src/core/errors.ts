/** What went wrong with a file or mesh; a closed union, so that tests and both doors can tell cases apart. */
export type MeshErrorCode =
  | 'empty-file'
  | 'unknown-format'
  | 'bad-header'
  | 'truncated'
  | 'count-mismatch'
  | 'no-vertices'
  | 'no-faces'
  | 'not-finite'
  | 'index-out-of-range'
  | 'bad-value'
  | 'too-large'
  | 'degenerate'
  | 'not-closed'
  | 'below-board';

/** Where in the file or mesh the first offence stands: zero-based byte offset, one-based line, zero-based index. */
export interface MeshErrorPlace {
  readonly byte?: number;
  readonly line?: number;
  readonly index?: number;
}

/** A file or mesh that cannot be used. `message` says what, where and what to do, in one or two plain sentences. */
export class MeshError extends Error {
  override readonly name = 'MeshError';
  constructor(
    readonly code: MeshErrorCode,
    message: string,
    readonly place: MeshErrorPlace = {},
  ) {
    super(message);
  }
}

export type PlanErrorCode =
  | 'bad-plan'
  | 'newer-plan'
  | 'bad-coats'
  | 'bad-line'
  | 'bad-pull'
  | 'bad-material'
  | 'too-fine'
  | 'nothing-above-board';

/** A plan that cannot be carried out on this scan. `message` says why and what to do; `field` names the plan's key. */
export class PlanError extends Error {
  override readonly name = 'PlanError';
  constructor(
    readonly code: PlanErrorCode,
    message: string,
    readonly field?: string,
  ) {
    super(message);
  }
}
