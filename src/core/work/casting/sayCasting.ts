import type { PlanDocument } from '../../plan/PlanDocument.ts';
import { formatLength, type UnitSystem } from '../../units.ts';
import type { MouldFill } from './MouldFill.ts';

/** What the figures of the casting load rest on and leave out, in sentences for people, in the units of `system`. */
export function sayCasting(
  { casting, scan }: Pick<PlanDocument, 'casting' | 'scan'>,
  fill: MouldFill,
  has: {
    readonly lines: boolean;
    readonly flange: boolean;
    readonly roomOnFlange: boolean;
    readonly roomForCast: boolean;
    /** Lines are left out where they run through what is kept clear. */
    readonly gaps: boolean;
  },
  system: UnitSystem,
): string[] {
  const says = [
    `Every figure here is a comparison for a skilled person, not a design: fluid at rest at its full head, poured at once, ${
      scan.is === 'pattern'
        ? 'on the pattern’s own face.'
        : 'on the rubber’s outer face, which is larger than the cast’s, so that forces come out a little too great.'
    }`,
  ];
  if (fill.headMm > fill.fullMm) {
    says.push('The level stands above the mould: the fluid in the spout presses by its height all the same.');
  }
  if (!has.roomForCast) {
    says.push(
      `Rubber of ${formatLength(casting.rubberMm, system)} would fill all of the inside and leave nothing to cast: check the rubber’s thickness, or whether the scan is the bare pattern.`,
    );
  }
  if (casting.wallMm !== null) {
    says.push(
      'A hollow cast weighs its wall, but the load is reckoned as if the mould were full: so it is while it is slushed.',
    );
  }
  if (has.lines && has.roomOnFlange) {
    says.push(
      'The opening force of a piece is shared over the lines around it by the pressure along each, and of the two pieces at a line the larger share counts. Prying is left out: a pull beside the middle of the lines loads the far fasteners more.',
      'Fasteners stand close where the pressure is high and never farther apart than the widest spacing given. Spacing in the trade is common practice, no source.',
    );
    if (has.gaps) {
      says.push(
        'None stands where a line runs through an area kept clear: there is no flange. The others on that line hold its share.',
      );
    }
  } else if (has.lines && has.flange) {
    says.push('The flange ends inside the shell: there is nothing to clamp, and no fasteners are placed.');
  } else if (has.lines) {
    says.push(
      'Without a flange no fasteners are placed: straps around the shell have to hold the closing force.',
    );
  }
  says.push(
    'Uplift counts the weight of the dry shell and the rubber alone; clamps and screws into the board come on top.',
  );
  return says;
}
