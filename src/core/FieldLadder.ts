import type { Checkpoint } from './checkpoint.ts';
import type { BandGrid } from './field/BandGrid.ts';
import type { CoatTable } from './field/CoatTable.ts';
import { checkCellMm, chooseCellMm } from './field/chooseCell.ts';
import type { FieldOrder } from './field/slabs/FieldOrder.ts';
import { beginField, type FieldJob } from './field/slabs/makeField.ts';
import type { SlabRunner } from './field/slabs/SlabRunner.ts';
import { sumRegions } from './field/sumRegions.ts';
import type { BrickTables } from './field/tabulateBricks.ts';
import type { Ground } from './layGround.ts';
import { ballsOf } from './plan/ballsOf.ts';
import type { PlanDocument } from './plan/PlanDocument.ts';
import type { StepCache } from './StepCache.ts';
import type { StepTimes } from './StepTimes.ts';

/** A distance field, integrated. */
export interface Field {
  readonly grid: BandGrid;
  readonly tables: BrickTables;
  readonly bandMm: number;
  readonly cellMm: number;
}

/** Cells of the three fields: the fine one answers, one of twice its cell answers for it, the rough one for that. */
export type Rung = 'fine' | 'coarse' | 'rough';

/** Cell edge of the field that answers for another, over that one's. */
export const FIELD_COARSER = 2;
/** Largest distance of two knots of the volume tables, in cell edges. */
const KNOT_CELLS = 0.5;
/** Cubic reading needs four knots, however coarse the cells. */
const LEAST_KNOT_STEPS = 3;

/** The band is rounded up to steps of this, with some room, so that a coat made thicker finds its field standing. */
const BAND_STEP_MM = 4;
const BAND_ROOM = 1.15;

/** Distance out to which the fields reach for a shell that ends at `outerMm`, mm. */
export function bandFor(outerMm: number): number {
  return Math.ceil((outerMm * BAND_ROOM) / BAND_STEP_MM) * BAND_STEP_MM;
}

/** The fields of a ground at their three cells, and the share of each piece in them; each made once and remembered. */
export class FieldLadder {
  readonly fineMm: number;

  constructor(
    private readonly plan: PlanDocument,
    private readonly ground: Ground,
    private readonly outerMm: number,
    innerMm: number,
    resolutionMm: number | 'auto',
    private readonly cache: StepCache,
    private readonly times: StepTimes,
    private readonly slabs: SlabRunner,
    /** Fields that were begun and not asked for yet, by what they are made from. */
    private readonly begun: Map<string, FieldJob>,
  ) {
    const thinnestMm = Math.min(...plan.coats.map((coat) => coat.thicknessMm));
    this.fineMm =
      resolutionMm === 'auto'
        ? chooseCellMm(thinnestMm, outerMm - innerMm, ground.areaMm2, bandFor(outerMm))
        : resolutionMm;
    checkCellMm(this.fineMm, ground.areaMm2, bandFor(outerMm));
  }

  cellMm(rung: Rung): number {
    return rung === 'fine'
      ? this.fineMm
      : this.fineMm * (rung === 'coarse' ? FIELD_COARSER : FIELD_COARSER ** 2);
  }

  has(rung: Rung): boolean {
    return this.cache.has(`field ${rung}`, this.fieldKey(rung));
  }

  /** It stands, or other hands have made it already. */
  isNear(rung: Rung): boolean {
    return this.has(rung) || (this.begun.get(this.fieldKey(rung))?.isMade() ?? false);
  }

  /** Lets other hands begin a field that will be asked for. */
  begin(rung: Rung): void {
    const key = this.fieldKey(rung);
    if (this.has(rung) || this.begun.has(key)) return;
    this.begun.set(key, beginField(this.ground.source, this.orderOf(rung), this.slabs));
  }

  field(rung: Rung, cp: Checkpoint): Promise<Field> {
    const { cache, outerMm } = this;
    const key = this.fieldKey(rung);
    return this.times.take('field', () =>
      cache.remember(`field ${rung}`, key, async () => {
        this.begin(rung);
        const { grid, tables } = await (this.begun.get(key) as FieldJob).finish(cp);
        this.begun.delete(key);
        return { grid, tables, bandMm: bandFor(outerMm), cellMm: this.cellMm(rung) };
      }),
    );
  }

  private orderOf(rung: Rung): FieldOrder {
    const cellMm = this.cellMm(rung);
    const bandMm = bandFor(this.outerMm);
    // The last knot stands at the band's end: a table that ends before it would cut the outermost coat short.
    const steps = Math.max(LEAST_KNOT_STEPS, Math.ceil(bandMm / (cellMm * KNOT_CELLS)));
    const isClosed = this.ground.scan.volumeMm3 !== null;
    return { cellMm, bandMm, isClosed, knotMm: bandMm / steps, knotCount: steps + 1 };
  }

  /** The coats' tables of every piece. */
  regions(rung: Rung, field: Field, cp: Checkpoint): Promise<CoatTable[]> {
    const { cache, ground, plan } = this;
    return this.times.take('coats', () =>
      cache.remember(`regions ${rung}`, this.regionsKey(rung) + field.bandMm, () =>
        sumRegions(
          field.grid,
          ground.source,
          field.tables,
          ground.parting.cut,
          ballsOf(plan.scan.keepClear),
          cp,
        ),
      ),
    );
  }

  /** Names all that the pieces' part of a field is made from. */
  regionsKey(rung: Rung): string {
    const { keepClear, is } = this.plan.scan;
    return JSON.stringify([this.ground.partingKey, keepClear, this.cellMm(rung), bandFor(this.outerMm), is]);
  }

  private fieldKey(rung: Rung): string {
    return `${this.ground.scanKey} ${this.cellMm(rung)} ${bandFor(this.outerMm)}`;
  }
}
