/** What a word of the trade means, in a sentence or two a newcomer can use. Own words. */
export const TERM_TEXTS = {
  rubber:
    'The skin of the mould, brushed over the pattern. It is soft, so it needs the shell to hold its shape.',
  pattern: 'The thing that is being copied: the sculpture or ornament itself.',
  board: 'What the mould stands on while it is made. Nothing below it is covered.',
  shell: 'The rigid jacket laid up over the rubber. It comes apart in pieces and holds the rubber in shape.',
  piece:
    'One part of the shell. The pieces meet along the parting lines and are bolted or strapped together.',
  'parting line': 'Where two pieces of the shell meet on the rubber, and where it comes apart.',
  'parting wall':
    'A low fence along the parting line. The first piece is laid up against it, then it is taken off and the next piece is laid against the first.',
  shim: 'A thin strip of metal or plastic stood in the rubber along the parting line. Many of them make the parting wall.',
  flange: 'The rim that stands out along the parting line, where the pieces are bolted together.',
  undercut: 'A place where the shell grips behind the form, so that the piece cannot come straight off.',
  lock: 'A place that holds the piece back as it is pulled off.',
  'lock depth':
    'How far the form reaches behind itself, measured square to the pull. Deeper means a tighter grip.',
  'block-out': 'Closing an undercut with filler before the shell goes on, so that the piece slides past it.',
  filler: 'Thickened rubber, clay or foam pressed into an undercut to close it.',
  draft:
    'The slope of a face along the pull. With some draft a piece lets go; with none it rubs; with less than none it locks.',
  pull: 'The direction in which a piece of the shell is taken off.',
  give: 'How much the rubber itself yields. Undercuts shallower than that do not hold the piece.',
  cap: 'A small piece at the top, closed in by a line of its own, for what no side piece can clear.',
  key: 'A knob or dimple that lets the rubber find its place in the shell again.',
  'keep clear': 'Areas that the shell leaves free: key backs, the opening for pouring.',
  coat: 'One layer of the shell, laid on before the next. Each is left to cure in part first.',
  face: 'The first coat, thin and without fibre, pushed into every detail of the rubber.',
  build: 'A coat that gives thickness.',
  reinforced: 'A coat with fibre in it, which carries the load.',
  finish: 'The last coat, smoothed with a trowel so that the shell is good to hold and stands flat.',
  batch: 'What is mixed in the bucket in one go, small enough to be on the wall before it sets.',
  'working time': 'From the end of mixing until the mix can no longer be spread.',
  'partial cure': 'Hard enough not to be disturbed, soft enough for the next coat to bond.',
  'full cure': 'Hard enough to take the shell off and to carry its load.',
  'release agent': 'What is brushed on so that the shell does not stick, to the first piece above all.',
  thickener: 'Makes the mix stand on an upright wall instead of running down.',
  accelerator: 'Makes the mix set sooner. It shortens the working time too.',
  retarder: 'Makes the mix set later, when the wall is large or the shop is hot.',
  scale: 'The smallest step your scale shows. Every amount is rounded to it.',
  'thin spot':
    'Where the shell is predicted below the smallest thickness allowed: ridges and corners, most often.',
  probe: 'A pin pushed through the wet coat to measure its thickness.',
  bound: 'How far off the number can be. The true one lies within it on either side.',
  levelled: 'Smoothed over with a trowel: hollows are filled, ridges stay.',
  'closing force': 'What the liquid inside presses the pieces apart with when the mould is filled.',
  fastener: 'A bolt, clamp or strap that holds the flanges together.',
  'dry weight': 'The shell after the water that is not bound has gone.',
} as const satisfies Readonly<Record<string, string>>;

export type Term = keyof typeof TERM_TEXTS;

/** True for a word that is explained. */
export function isTerm(word: string): word is Term {
  return Object.hasOwn(TERM_TEXTS, word);
}
