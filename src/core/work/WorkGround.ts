/** What the work is planned from: amounts by piece as functions of the thickness, so that a log or another system can ask again. */
export interface PieceGround {
  readonly id: string;
  readonly name: string;
  /** The rubber's outward face under the piece, mm2. */
  readonly areaMm2: number;
  /** Volume of the piece's coats from the rubber out to this distance from it, flange left out, mm3. */
  shellMm3(distanceMm: number): number;
  /** Area of the shell's outside at this distance from the rubber, mm2. */
  areaAtMm2(distanceMm: number): number;
  readonly flange: { readonly lengthMm: number };
  /** Volume of the piece's flange beyond a shell of this thickness, mm3; 0 without a flange. */
  flangeMm3(outerMm: number): number;
}

export interface WorkGround {
  readonly pieces: readonly PieceGround[];
  readonly borders: readonly { readonly between: readonly [string, string]; readonly lengthMm: number }[];
  /** Rubber of the mould, g; 0 when it is not known. */
  readonly rubberG: number;
  /** Filler to be put on, g: what the plan accepted. */
  readonly fillerG: number;
  /** Length of the rubber's outline on the board, mm; 0: it stands on none. Left out: not known. */
  readonly footMm?: number;
  /** Null while the load is not worked out. */
  readonly fasteners: number | null;
  /** 0 and 0 without a flange. */
  readonly flangeWidthMm: number;
  readonly flangeThicknessMm: number;
}
