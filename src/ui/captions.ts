import type { MapKind } from '../session/mapPrefs.ts';
import type { Stage } from '../session/ViewPrefs.ts';

/** The figure of each stage, as a drawing's caption names it. */
const SUBJECTS: Readonly<Record<Stage, string>> = {
  scan: 'The scan on its board',
  parting: 'Parting line and undercuts',
  coats: 'Coats over the rubber',
  mix: 'The shell to be mixed for',
  sheet: 'The mould and its shell',
};

/** The figure of each map. */
const MAP_SUBJECTS: Readonly<Record<MapKind, string>> = {
  thickness: 'Thickness of the coats, predicted',
  undercut: 'How deep it locks',
  draft: 'Draft for each pull',
  distance: 'The body against the scan as it came',
};

const NUMBERS: Readonly<Record<Stage, number>> = { scan: 1, parting: 2, coats: 3, mix: 4, sheet: 5 };

export interface Viewpoint {
  /** Where the camera stands, degrees from +x, counter-clockwise from above. */
  readonly azimuthDeg: number;
  /** How far the view looks down: 0 level, 1 straight down. */
  readonly downShare: number;
}

/** Above this the view is "from above": the sides are too foreshortened to be called seen. */
const STEEP_DOWN = 0.9;

/** "seen from the left front": the side nearer to the camera first; eight winds, the front at -y. */
export function sayViewpoint(view: Viewpoint): string {
  if (view.downShare > STEEP_DOWN) return 'seen from above';
  const names = [
    'the right',
    'the right back',
    'the back',
    'the left back',
    'the left',
    'the left front',
    'the front',
    'the right front',
  ];
  const turn = ((Math.round(view.azimuthDeg / 45) % 8) + 8) % 8;
  return `seen from ${names[turn]}`;
}

/** What is said of the mould's body after the subject. */
const BODIES = { rubber: '', shell: ', shell on', cut: ', cut open' } as const;

/** Number and text of the caption, without the viewpoint when there is none to name yet. */
export function captionOf(
  stage: Stage,
  view: Viewpoint | null,
  body: 'rubber' | 'shell' | 'cut' = 'rubber',
  /** The map that lies on the mould: the figure is of that then. */
  map: MapKind | null = null,
): { number: string; text: string } {
  const subject = map === null ? `${SUBJECTS[stage]}${BODIES[body]}` : MAP_SUBJECTS[map];
  return { number: `Fig. ${NUMBERS[stage]}`, text: view ? `${subject}, ${sayViewpoint(view)}` : subject };
}

/**
 * Reads the viewpoint off three projected points: the origin and points one unit along x and y (screen y points down).
 * The screen's right-hand direction r in board coordinates gives the camera's side: it stands at -(up x r).
 */
export function viewpointOf(
  origin: { x: number; y: number },
  alongX: { x: number; y: number },
  alongY: { x: number; y: number },
): Viewpoint | null {
  const rx = alongX.x - origin.x;
  const ry = alongY.x - origin.x;
  const right = Math.hypot(rx, ry);
  if (!(right > 1e-6)) return null;
  const ux = origin.y - alongX.y;
  const uy = origin.y - alongY.y;
  // Seen from above at an angle, a step away from the camera rises on the screen by the sine of the downward look.
  const downShare = Math.min(1, Math.hypot(ux, uy) / right);
  const azimuthDeg = (Math.atan2(-rx, ry) * 180) / Math.PI;
  return { azimuthDeg: (azimuthDeg + 360) % 360, downShare };
}
