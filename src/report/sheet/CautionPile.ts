import type { PlanResult } from '../../core/PlanResult.ts';
import type { UnitSystem } from '../../core/units.ts';
import { readSaid } from '../readSaid.ts';
import type { SheetLine } from './Sheet.ts';

/** The cautions of a plan, handed out once each to the steps that they belong to; what no step took is left over. */
export class CautionPile {
  private readonly left: SheetLine[];

  constructor(cautions: PlanResult['cautions'], system: UnitSystem) {
    this.left = cautions.map((caution) => ({ lead: caution.step, text: readSaid(caution, 'text', system) }));
  }

  /** Takes those of these steps. */
  take(...steps: readonly string[]): SheetLine[] {
    const taken = this.left.filter((caution) => steps.includes(caution.lead));
    for (const caution of taken) this.left.splice(this.left.indexOf(caution), 1);
    return taken;
  }

  /** Takes all that are left. */
  takeRest(): SheetLine[] {
    return this.left.splice(0);
  }
}
