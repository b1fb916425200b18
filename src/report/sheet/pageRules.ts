export const PAPERS = ['a4', 'letter'] as const;
export type Paper = (typeof PAPERS)[number];

/** ISO 216 and ANSI/ASME Y14.1, mm. */
export const PAPER_MM: Readonly<Record<Paper, { readonly widthMm: number; readonly heightMm: number }>> = {
  a4: { widthMm: 210, heightMm: 297 },
  letter: { widthMm: 215.9, heightMm: 279.4 },
};

/** Free paper on every side, mm: what home and office printers keep clear, and room for the page's number. */
export const PAGE_MARGIN_MM = 14;

/**
 * Margins and the page's foot: the job to the left, the page's number to the right, where the browser can. `paper` null: whatever
 * lies in the printer. It has to stand in the document itself: such rules mean nothing in a shadow tree.
 */
export function pageRules(job: string, paper: Paper | null): string {
  const size = paper === null ? '' : `size:${paper === 'a4' ? 'A4' : 'letter'} portrait;`;
  const foot = 'font:8pt system-ui,sans-serif;color:#5a5f63;';
  return `@page{${size}margin:${PAGE_MARGIN_MM}mm;@bottom-left{content:"${cssText(job)}";${foot}}@bottom-right{content:counter(page) " of " counter(pages);${foot}}}`;
}

/** A text within a CSS string: whatever is not a plain letter, digit or space is written as its number. */
function cssText(text: string): string {
  return Array.from(text, (c) =>
    /[A-Za-z0-9 ]/.test(c) ? c : `\\${c.codePointAt(0)?.toString(16) ?? '20'} `,
  ).join('');
}
