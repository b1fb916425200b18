import { css } from 'lit';

/**
 * The page's layouts as media queries, by what a person holds: the only place where their borders are written. Heights count too:
 * a page magnified to 200 % is as low as a telephone on its side. Each stands after `@media` in an element's styles.
 */

/** A laptop on the bench: the stages in the left margin. */
export const wide = css`(min-width: 1200px) and (min-height: 600px)`;

/** The stages in a strip along the top: everything that is not wide. */
export const narrow = css`(max-width: 1199px), (max-height: 599px)`;

/** A small laptop, or a tablet laid flat: strip on top, figure and panel side by side. */
export const flat = css`(min-width: 900px) and (max-width: 1199px) and (min-height: 600px)`;

/** A tablet upright: figure above, panel below. */
export const upright = css`(min-width: 600px) and (max-width: 899px) and (min-height: 600px)`;

/** A telephone on its side, or a laptop at 200 %: side by side, everything else as flat as it goes. */
export const low = css`(min-width: 600px) and (max-height: 599px)`;

/** A telephone upright. */
export const phone = css`(max-width: 599px)`;

/** So small that regions would leave each other no room: they follow each other and the page scrolls. */
export const tiny = css`(max-width: 599px) and (max-height: 559px)`;

/** Three numbers of the title block, the rest at a touch. */
export const strip = css`(max-width: 599px), (max-height: 599px)`;

/** High enough for the margin to hold the sheet's settings under the stages. */
export const wideAndHigh = css`(min-width: 1200px) and (min-height: 760px)`;
