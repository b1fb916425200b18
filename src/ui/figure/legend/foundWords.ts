/** What the marks with a note's code stand for, short enough for the legend. */
const WORDS: Readonly<Record<string, string>> = {
  'holes-left': 'open hole',
  'holes-filled': 'hole filled',
  'skirt-added': 'skirt added',
  'faces-turned': 'faces turned',
  'duplicate-faces-dropped': 'face told twice',
  'fins-dropped': 'fin dropped',
  'unjoinable-dropped': 'face dropped',
  'non-manifold-parted': 'sheets parted',
  'touching-parted': 'sheets parted',
  'crumbs-dropped': 'crumb dropped',
  'flakes-dropped': 'flake dropped',
  'inner-parts-dropped': 'inner wall dropped',
  cropped: 'cropped away',
  'cut-closed': 'cut closed flat',
  'cut-left-open': 'cut left open',
  'clipped-at-board': 'cut off at the board',
  'welded-near': 'crack welded',
  'zero-area-dropped': 'face without area',
  'sides-uncertain': 'inside uncertain',
  'faces-crossing': 'faces crossing',
  'table-cut-away': 'table cut away',
  'surface-rough': 'surface rough',
  'left-crumbs-dropped': 'crumb left in',
  'left-flakes-dropped': 'flake left in',
  'left-inner-parts-dropped': 'inner wall left in',
  'left-holes-filled': 'hole left open',
  'left-skirt-added': 'gap at the foot left',
  'left-table-cut-away': 'table left in',
  'left-cut-closed': 'cut not closed',
};

export function foundWords(code: string): string {
  return WORDS[code] ?? 'found or mended here';
}
