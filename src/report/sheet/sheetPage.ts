import { escapeHtml } from './escapeHtml.ts';
import { PAGE_MARGIN_MM, PAPER_MM, type Paper, pageRules } from './pageRules.ts';
import { renderSheet } from './renderSheet.ts';
import type { Sheet } from './Sheet.ts';

/** A face's two weights as `data:` addresses of WOFF2 files. */
export interface SheetFace {
  readonly family: string;
  readonly regularHref: string;
  readonly boldHref: string;
}

/** Kept free under the first page's block, mm: a block that fills its page to the hair is pushed to a second one by rounding. */
const PAGE_SLACK_MM = 2;

/**
 * The sheet as a whole HTML file: no script, nothing from outside, pictures and face within. It may be opened from a disk, sent, and
 * printed on the paper it was made for; other paper works too.
 */
export function sheetPage(sheet: Sheet, paper: Paper, face: SheetFace | null): string {
  const { body, css } = renderSheet(sheet);
  const faces =
    face === null
      ? ''
      : [
          [400, face.regularHref],
          [700, face.boldHref],
        ]
          .map(
            ([weight, href]) =>
              `@font-face{font-family:"${face.family}";font-weight:${weight};src:url("${href}") format("woff2")}`,
          )
          .join('');
  const family = face === null ? '' : `"${face.family}",`;
  const heightMm = PAPER_MM[paper].heightMm - 2 * PAGE_MARGIN_MM - PAGE_SLACK_MM;
  const own = `html{background:#fff}body{margin:0;padding:8mm 4mm;font-family:${family}system-ui,sans-serif}.shop-sheet{--page-height:${heightMm}mm;max-width:190mm;margin:0 auto}@media print{body{padding:0}}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeHtml(`Shop sheet: ${sheet.job}`)}</title>
<style>${faces}${css}${own}${pageRules(sheet.job, paper)}</style>
</head>
<body>
${body}
</body>
</html>
`;
}
