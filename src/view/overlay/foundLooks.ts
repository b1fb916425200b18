/** How a line is struck: what is there is whole, what is gone is broken, what was joined or left in is dotted. */
export type FoundStroke = 'whole' | 'broken' | 'dotted';

/** How a patch is filled: strokes that rise or fall to the right, lie level, stand upright, or dots; null: its outline alone. */
export type FoundFill = 'rising' | 'falling' | 'level' | 'upright' | 'dots' | null;

/** How one kind of finding is drawn on the scan and in the keys to it. */
export interface FoundLook {
  readonly stroke: FoundStroke;
  readonly fill: FoundFill;
}

/** What is not listed: points and outlines alone. */
const PLAIN: FoundLook = { stroke: 'whole', fill: null };

/**
 * Kinds tell apart without colour: by how the outline is struck and how the patch is filled. Own choice: what went out of the
 * scan is broken, as a drawing shows what is not there.
 */
const LOOKS: Readonly<Record<string, FoundLook>> = {
  'holes-left': PLAIN,
  'holes-filled': { stroke: 'whole', fill: 'rising' },
  'skirt-added': { stroke: 'whole', fill: 'upright' },
  'faces-turned': { stroke: 'whole', fill: 'falling' },
  'duplicate-faces-dropped': { stroke: 'whole', fill: 'level' },
  'fins-dropped': { stroke: 'broken', fill: 'upright' },
  'unjoinable-dropped': { stroke: 'broken', fill: 'upright' },
  'non-manifold-parted': { stroke: 'dotted', fill: null },
  'crumbs-dropped': { stroke: 'broken', fill: 'dots' },
  'flakes-dropped': { stroke: 'broken', fill: 'dots' },
  'inner-parts-dropped': { stroke: 'broken', fill: 'level' },
  cropped: { stroke: 'broken', fill: 'rising' },
  'cut-closed': { stroke: 'whole', fill: 'dots' },
  'cut-left-open': PLAIN,
  'faces-crossing': { stroke: 'dotted', fill: 'falling' },
  'clipped-at-board': { stroke: 'broken', fill: 'rising' },
  // Its faces are hatched already, as cut off at the board.
  'table-cut-away': { stroke: 'broken', fill: null },
  'surface-rough': PLAIN,
  'left-crumbs-dropped': { stroke: 'dotted', fill: 'dots' },
  'left-flakes-dropped': { stroke: 'dotted', fill: 'dots' },
  'left-inner-parts-dropped': { stroke: 'dotted', fill: 'level' },
  'left-table-cut-away': { stroke: 'dotted', fill: 'rising' },
};

/** The look of the findings with this code (a note's code). */
export function foundLook(code: string): FoundLook {
  return LOOKS[code] ?? PLAIN;
}
