/** What people read of a result, as plain JSON: the command prints it as text, the page and the sheet lay it out their own way. */
export interface Report {
  readonly title: string;
  readonly sections: readonly ReportSection[];
}

export interface ReportSection {
  readonly title: string;
  readonly facts: readonly ReportFact[];
  readonly tables: readonly ReportTable[];
  readonly paragraphs: readonly ReportParagraph[];
}

/** A label and what it says: "Height  412 mm". */
export interface ReportFact {
  readonly label: string;
  readonly text: string;
}

export interface ReportTable {
  readonly columns: readonly ReportColumn[];
  readonly rows: readonly ReportRow[];
}

export interface ReportColumn {
  readonly title: string;
  /** Names stand to the left, amounts to the right. */
  readonly align: 'left' | 'right';
}

export interface ReportRow {
  /** One a column. */
  readonly cells: readonly ReportCell[];
  readonly isTotal: boolean;
}

export interface ReportCell {
  readonly text: string;
  /** Bound that the tool stands behind, with its sign; empty where the figure has none. */
  readonly bound: string;
}

/** A sentence or two; `lead` names what they belong to ("Mixing"), empty for none. */
export interface ReportParagraph {
  readonly lead: string;
  readonly text: string;
}
