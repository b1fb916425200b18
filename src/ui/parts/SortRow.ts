import type { TemplateResult } from 'lit';

/** A column of a table that sorts. */
export interface SortColumn {
  readonly key: string;
  /** As written over it, its unit with it where the cells have none. */
  readonly title: string;
  /** Where its text stands; the first column stands at the start, all others at the end unless they say so. */
  readonly align?: 'start' | 'end';
  /** Its title is for the ear alone, and it doesn't sort: a column of buttons. */
  readonly isBare?: boolean;
}

/** What stands where a row meets a column. */
export interface SortCell {
  readonly text: string;
  /** Smaller lines below it: its bound, a second reading. They are copied with it. */
  readonly under?: readonly string[];
  /** By which it sorts, in one unit for the whole column; null: nothing is known, it stands last. Left out: by its text. */
  readonly value?: number | string | null;
  readonly tone?: 'soft' | 'strong' | 'warn';
  /**
   * Shown in place of the text, such as a button; copied and sorted is the text all the same. The table gives width and place
   * to fields of class 'typed', to ticks (`label.check`) and to a button of class 'row-name' in the first column.
   */
  readonly view?: TemplateResult;
}

/** A row: its cells by the keys of the columns. A column it has no cell for stays empty. */
export interface SortRow {
  /** No other row of the table has it. */
  readonly key: string;
  readonly cells: Readonly<Record<string, SortCell>>;
  /** Class of the small square before its first cell: 'piece-0', 'coat-3'. */
  readonly swatch?: string;
  /** The one in use among them. */
  readonly isMarked?: boolean;
  /** Goes along below it, over the whole width; never copied. */
  readonly detail?: TemplateResult;
}
