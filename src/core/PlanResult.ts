import type { Vec3 } from './mesh/TriMesh.ts';

/** The answer, plain JSON; keys carry units. Shape and meaning of every number: README, "What the numbers mean". */
export interface PlanResult {
  readonly schema: 'scute-result/1';
  readonly scan: ScanReport;
  /** Edge of the field's cells that gave the numbers, mm. */
  readonly resolutionMm: number;
  /** True when the numbers come from the coarse field alone and finer ones are under way. */
  readonly preliminary: boolean;
  readonly rubber: {
    readonly areaMm2: number;
    readonly heightMm: number;
    /** Enclosed by the rubber's outer surface and the board; null when the scan does not close. */
    readonly volumeMm3: number | null;
    /** Only for a bare pattern: the rubber itself. */
    readonly layer: null | {
      readonly thicknessMm: number;
      readonly volumeMm3: number;
      readonly volumeErrorMm3: number;
      readonly massG: number;
    };
  };
  readonly shell: Amount & { readonly thicknessMm: number };
  readonly pieces: readonly PieceResult[];
  readonly partingLines: readonly PartingLineResult[];
  /** Not computed yet by this version: null, never an empty success. */
  readonly batches: null;
  readonly shopping: null;
  readonly schedule: null;
  readonly cost: null;
  readonly casting: null;
  readonly handling: null;
  readonly cautions: readonly { readonly step: string; readonly text: string }[];
  readonly timesMs: Readonly<
    Record<'read' | 'repair' | 'field' | 'coats' | 'pieces' | 'undercut' | 'total', number>
  >;
}

export interface Amount {
  readonly volumeMm3: number;
  /** Bound on |computed - true| for the mesh as read, mm3. */
  readonly volumeErrorMm3: number;
  readonly massG: number;
  readonly massErrorG: number;
}

export interface CoatResult {
  readonly name: string;
  readonly kind: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly volumeMm3: number;
  readonly volumeErrorMm3: number;
  readonly massG: number;
  readonly massErrorG: number;
}

export interface PieceResult extends Amount {
  readonly id: string;
  readonly name: string;
  readonly pull: Vec3;
  readonly areaMm2: number;
  readonly centreOfMassMm: Vec3;
  readonly coats: readonly CoatResult[];
  readonly flange: {
    readonly lengthMm: number;
    readonly volumeMm3: number;
    readonly volumeErrorMm3: number;
    readonly massG: number;
  };
  /** Not computed yet by this version. */
  readonly undercut: null | {
    readonly areaMm2: number;
    readonly maxDepthMm: number;
    readonly fillerMm3: number;
  };
  readonly thin: { readonly minMm: number; readonly areaBelowMm2: number };
}

export interface PartingLineResult {
  readonly between: readonly [string, string];
  readonly lengthMm: number;
  readonly points: readonly Vec3[];
}

/** What the scan is and what was done to it; counts are of the file as read, before repair, except `repairs`. */
export interface ScanReport {
  readonly triangles: number;
  readonly vertices: number;
  readonly components: number;
  readonly openEdges: number;
  readonly openLoops: number;
  readonly nonManifoldEdges: number;
  readonly sizeMm: Vec3;
  readonly unit: string;
  readonly warnings: readonly ScanNote[];
  readonly repairs: readonly ScanNote[];
}

export interface ScanNote {
  /** Closed set, kebab-case: 'unit-guessed', 'welded', 'duplicate-faces-dropped', ... */
  readonly code: string;
  readonly text: string;
  readonly count?: number;
}
