/**
 * Words that begin a line of a Wavefront OBJ file (Advanced Visualizer manual, appendix B1, "Object files"), from memory.
 * Surfaces made of curves are not read: what they describe is no mesh yet.
 */
export const OBJ_CURVE_WORDS: ReadonlySet<string> = new Set([
  'vp',
  'deg',
  'bmat',
  'step',
  'cstype',
  'curv',
  'curv2',
  'surf',
  'parm',
  'trim',
  'hole',
  'scrv',
  'sp',
  'end',
  'con',
]);

/** How faces look and how they are grouped: nothing that a mould is measured by. */
export const OBJ_LOOK_WORDS: ReadonlySet<string> = new Set([
  'vt',
  'vn',
  'usemtl',
  'mtllib',
  'usemap',
  'maplib',
]);

const OTHER_WORDS: ReadonlySet<string> = new Set([
  'v',
  'f',
  'fo',
  'p',
  'l',
  'g',
  'o',
  's',
  'mg',
  'bevel',
  'c_interp',
  'd_interp',
  'lod',
  'shadow_obj',
  'trace_obj',
  'ctech',
  'stech',
  'call',
  'csh',
  'bsp',
  'bzp',
  'cdc',
  'cdp',
  'res',
]);

/** Whether a line of the format may begin with the word. */
export function isObjWord(word: string): boolean {
  return OTHER_WORDS.has(word) || OBJ_LOOK_WORDS.has(word) || OBJ_CURVE_WORDS.has(word);
}
