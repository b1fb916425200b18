import type { PrintedSide } from '../../core/picture/SidePicture.ts';
import type { Side } from '../../core/picture/SideView.ts';
import type { UnitSystem } from '../../core/units.ts';
import { dataUri } from '../dataUri.ts';
import type { SheetFigure } from './Sheet.ts';
import { scaleBar } from './scaleBar.ts';

/** Pixels across a picture on the sheet: about 220 to the inch where two stand side by side on A4. */
export const FIGURE_WIDTH_PX = 720;

const TITLES: Readonly<Record<Side, string>> = {
  front: 'From the front',
  right: 'From the right',
  back: 'From behind',
  left: 'From the left',
};

/** The picture as the sheet holds it. */
export function pictureHref({ png }: PrintedSide): string {
  return dataUri(png, 'image/png');
}

/** A drawn side as the sheet shows it; `href` as `pictureHref` gives it. */
export function figureOf(picture: PrintedSide, href: string, system: UnitSystem): SheetFigure {
  return {
    title: TITLES[picture.side],
    picture,
    href,
    scale: scaleBar(picture.mmPerPx, picture.widthPx, system),
  };
}
