import { svg } from 'lit';

/** Line drawings for buttons, 20 by 20, in the colour of the text. Always beside or under a written name. */
const icon = (body: ReturnType<typeof svg>) =>
  svg`<svg width="20" height="20" viewBox="0 0 20 20" fill="none" stroke="currentColor" stroke-width="1.6" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true">${body}</svg>`;

export const undoIcon = icon(svg`<path d="M7 4 3 8l4 4"/><path d="M3 8h8a5 5 0 0 1 0 9H8"/>`);
export const redoIcon = icon(svg`<path d="m13 4 4 4-4 4"/><path d="M17 8H9a5 5 0 0 0 0 9h3"/>`);
export const upIcon = icon(svg`<path d="M10 16V4"/><path d="m5 9 5-5 5 5"/>`);
export const downIcon = icon(svg`<path d="M10 4v12"/><path d="m5 11 5 5 5-5"/>`);
export const foldIcon = icon(svg`<path d="m4 7 6 6 6-6"/>`);
export const removeIcon = icon(svg`<path d="M5 5l10 10M15 5 5 15"/>`);
export const plusIcon = icon(svg`<path d="M10 4v12M4 10h12"/>`);
export const minusIcon = icon(svg`<path d="M4 10h12"/>`);
export const fitIcon = icon(svg`<path d="M3 7V3h4M13 3h4v4M17 13v4h-4M7 17H3v-4"/>`);
export const saveIcon = icon(svg`<path d="M10 3v10"/><path d="m6 9 4 4 4-4"/><path d="M3 17h14"/>`);
export const moreIcon = icon(svg`<path d="M3 6h14M3 10h14M3 14h14"/>`);
export const themeIcon = icon(
  svg`<circle cx="10" cy="10" r="7"/><path d="M10 3a7 7 0 0 1 0 14z" fill="currentColor"/>`,
);
