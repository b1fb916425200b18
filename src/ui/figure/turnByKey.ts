import type { MouldView } from '../../view/MouldView.ts';
import type { DrafterState } from '../control/LineDrafter.ts';

/** How far one press of an arrow key turns the camera, radians; pans, pixels; zooms, factor. */
const KEY_TURN_RAD = Math.PI / 24;
const KEY_PAN_PX = 40;
export const ZOOM_FACTOR = 1.25;

/** Does to the view what the key asks for; true when the key was meant for it. */
export function turnByKey(event: KeyboardEvent, view: MouldView, drafter: DrafterState): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  const step = (dx: number, dy: number): true => {
    if (event.shiftKey) view.panBy(dx * KEY_PAN_PX, dy * KEY_PAN_PX);
    else view.orbitBy(dx * KEY_TURN_RAD, dy * KEY_TURN_RAD);
    return true;
  };
  switch (event.key) {
    case 'ArrowLeft':
      return step(-1, 0);
    case 'ArrowRight':
      return step(1, 0);
    case 'ArrowUp':
      return step(0, -1);
    case 'ArrowDown':
      return step(0, 1);
    case '+':
    case '=':
      view.zoomBy(ZOOM_FACTOR);
      return true;
    case '-':
      view.zoomBy(1 / ZOOM_FACTOR);
      return true;
    case ' ':
      if (drafter.mode === 'look') return false;
      view.tapMiddle();
      return true;
    case 'm':
    case 'M': {
      const { selected, mode } = drafter;
      if (mode !== 'edit' || selected === null || selected.point === null) return false;
      view.movePointToMiddle(selected.line, selected.point);
      return true;
    }
    case 'f':
    case 'F':
      view.fit();
      return true;
    default:
      return false;
  }
}
