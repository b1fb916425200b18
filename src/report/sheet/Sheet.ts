import type { PrintedSide } from '../../core/picture/SidePicture.ts';

/** The shop sheet as plain data: every word that is on it, in order. `renderSheet` makes it a page. */
export interface Sheet {
  readonly job: string;
  readonly shop: string;
  /** What keeps these numbers from being the last word: rough, or an answer to an earlier plan. '' when nothing does. */
  readonly standing: string;
  /** Read first: what will not do as it stands. */
  readonly warnings: readonly SheetLine[];
  /** The mould from its sides; null while they are not drawn, which the sheet then says. */
  readonly figures: readonly SheetFigure[] | null;
  /** Names of the pieces in the order of their tints; they stand under the figures. */
  readonly pieces: readonly string[];
  /** Along the foot of the first page: the title block. */
  readonly cells: readonly SheetTitleCell[];
  readonly sections: readonly SheetSection[];
  /** At the very end, in full. */
  readonly closing: readonly string[];
}

/** A sentence or two; `lead` names what they belong to, '' for none. */
export interface SheetLine {
  readonly lead: string;
  readonly text: string;
}

export interface SheetTitleCell {
  readonly label: string;
  readonly text: string;
  readonly under: string;
}

export interface SheetFigure {
  readonly title: string;
  readonly picture: PrintedSide;
  /** The picture itself, as a `data:` address. */
  readonly href: string;
  readonly scale: { readonly lengthPx: number; readonly text: string };
}

export interface SheetSection {
  /** Letters and hyphens alone. */
  readonly id: string;
  readonly title: string;
  readonly parts: readonly SheetPart[];
}

export type SheetPart =
  | { readonly kind: 'lines'; readonly lines: readonly SheetLine[] }
  /** What can hurt, beside the step where it does. */
  | { readonly kind: 'cautions'; readonly lines: readonly SheetLine[] }
  | { readonly kind: 'facts'; readonly facts: readonly SheetLine[] }
  | SheetTable;

export interface SheetTable {
  readonly kind: 'table';
  /** Over the table; '' for none. */
  readonly caption: string;
  /** Under the caption, before the table. */
  readonly intro: readonly SheetLine[];
  readonly columns: readonly SheetColumn[];
  readonly rows: readonly SheetRow[];
  /** Kept on one page: for tables of a few rows. */
  readonly isWhole: boolean;
}

export interface SheetColumn {
  readonly title: string;
  /** 'tick': a box to tick. 'tint': how the piece of this number, from 0, is drawn. 'write': room for a figure. 'weight': read from a metre away. 'number': to the right. 'text': to the left. */
  readonly look: 'tick' | 'tint' | 'write' | 'weight' | 'number' | 'text';
}

export interface SheetRow {
  /** One a column. Of a 'tick': 'done', '' for an empty box, 'none' for no box. Of a 'write': what was written down already, or ''. */
  readonly cells: readonly SheetCell[];
  readonly tone: 'plain' | 'total' | 'quiet';
  /** Under the row, across the table. */
  readonly cautions: readonly SheetLine[];
}

export interface SheetCell {
  readonly text: string;
  /** Smaller, beneath. */
  readonly under: string;
}
