import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { announce } from '../announce.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { copyText } from './copyText.ts';
import type { SortCell, SortColumn, SortRow } from './SortRow.ts';
import { nextOrder, type SortOrder, sortRows } from './sortRows.ts';
import { tableText } from './tableText.ts';

/**
 * A table that sorts by any of its columns and copies as text. A press on a head sorts up, a second one down, a third one
 * back to the order of the work. It knows nothing of what its rows mean. Where it is wider than its place it scrolls by itself.
 */
@customElement('scute-table')
export class SortTable extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
      }
      .box {
        overflow-x: auto;
      }
      .box:focus-visible {
        outline-offset: 0;
      }
      tr > td,
      tr > th:not(:first-child) {
        padding-left: 10px;
      }
      tr.above th {
        border-bottom: none;
        padding-bottom: 0;
      }
      tr.above + tr > td:first-child {
        padding-left: 0;
      }
      tr.above.marked > th,
      tr.above.marked + tr > :first-child {
        border-left: 3px solid var(--accent);
        padding-left: 10px;
      }
      thead th {
        padding: 0;
      }
      thead button {
        display: flex;
        align-items: end;
        justify-content: flex-end;
        gap: 3px;
        width: 100%;
        min-width: 0;
        padding: 4px 0 6px 8px;
        border: none;
        background: none;
        color: inherit;
        font-size: var(--size-small);
        line-height: 1.2;
        text-align: right;
      }
      thead button:hover:not(:disabled) {
        color: var(--ink);
        background: var(--paper-sunk);
      }
      thead th.start button {
        justify-content: flex-start;
        text-align: left;
      }
      thead th:first-child button {
        padding-left: 0;
      }
      @container (max-width: 379px) {
        thead th:not(:first-child) button {
          padding-left: 4px;
        }
      }
      .start {
        text-align: left;
      }
      tbody th,
      tbody td.wrap {
        white-space: normal;
      }
      .name {
        display: flex;
        align-items: baseline;
        gap: 8px;
      }
      .soft {
        color: var(--ink-soft);
      }
      .strong {
        font-weight: bold;
      }
      .warn {
        color: var(--accent);
        font-weight: bold;
      }
      .bound {
        display: block;
        color: var(--ink-soft);
        font-size: var(--size-small);
        font-weight: normal;
      }
      td.wrap .bound {
        white-space: normal;
      }
      tr.marked > :first-child {
        border-left: 3px solid var(--accent);
        padding-left: 10px;
      }
      tr.with-detail > * {
        border-bottom: none;
      }
      tr.detail td {
        white-space: normal;
        text-align: left;
        padding: 0;
      }
      tr.detail summary {
        min-height: var(--target);
        padding: 10px 0;
        cursor: pointer;
        color: var(--accent);
      }
      tr.detail li {
        margin: 0 0 10px;
        overflow-wrap: anywhere;
      }
      td button {
        white-space: nowrap;
        padding: 4px 6px;
      }
      th button.row-name {
        min-height: var(--target);
        padding: 4px 6px 4px 0;
        text-align: left;
        white-space: normal;
        font-weight: inherit;
        color: inherit;
      }
      td .typed {
        width: 92px;
        margin: 4px 0 4px auto;
      }
      td label.check {
        justify-content: flex-end;
        min-width: var(--target);
      }
      .foot {
        display: flex;
        justify-content: flex-end;
      }
      .foot button {
        font-size: var(--size-small);
        color: var(--ink-soft);
      }
    `,
  ];

  /** What the table is, for the ear and for what is said when it was copied. */
  @property() caption = '';
  @property({ attribute: false }) columns: readonly SortColumn[] = [];
  @property({ attribute: false }) rows: readonly SortRow[] = [];
  /** Sums and the like: they stay below whatever the order. */
  @property({ attribute: false }) totals: readonly SortRow[] = [];
  /** The first column stands above the others, over the whole width: for names too long to stand beside numbers. */
  @property({ type: Boolean }) isNameAbove = false;

  @state() private order: SortOrder = null;
  @state() private isCopied = false;
  @query('.box') private box!: HTMLElement;
  @query('table') private table!: HTMLElement;

  private copiedTimer: ReturnType<typeof setTimeout> | undefined;
  private readonly sized = new ResizeObserver(() => this.letScroll());

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    clearTimeout(this.copiedTimer);
    this.sized.disconnect();
  }

  protected override firstUpdated(): void {
    this.watchSize();
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.watchSize();
  }

  /** The observer tells after the browser has laid the table out: asking for widths then costs nothing. */
  private watchSize(): void {
    this.sized.observe(this.box);
    this.sized.observe(this.table);
  }

  /** In reach of the keyboard only when there is something to scroll to. */
  private letScroll(): void {
    const isWide = this.box.scrollWidth > this.box.clientWidth;
    this.box.toggleAttribute('tabindex', isWide);
    if (!isWide) {
      this.box.removeAttribute('role');
      this.box.removeAttribute('aria-label');
      return;
    }
    this.box.tabIndex = 0;
    this.box.setAttribute('role', 'region');
    this.box.setAttribute('aria-label', this.caption);
  }

  override render() {
    return html`
      <div class="box">
        <table>
          <caption class="visually-hidden">
            ${this.caption}
          </caption>
          <thead>
            ${
              this.isNameAbove
                ? html`<tr>
                  ${this.renderHead(this.columns[0], 0)}
                </tr>`
                : nothing
            }
            <tr>
              ${this.columns.map((column, n) => (this.isNameAbove && n === 0 ? nothing : this.renderHead(column, n)))}
            </tr>
          </thead>
          <tbody>
            ${repeat(
              sortRows(this.rows, this.order),
              // What was ticked or typed in a row stays with it wherever it goes.
              (row) => row.key,
              (row) => this.renderRow(row),
            )}
          </tbody>
          ${
            this.totals.length > 0
              ? html`<tfoot>
                ${this.totals.map((row) => this.renderRow(row))}
              </tfoot>`
              : nothing
          }
        </table>
      </div>
      <div class="foot">
        <button class="quiet" aria-label="Copy the table: ${this.caption}" @click=${this.copy}>
          ${this.isCopied ? 'Copied' : 'Copy'}
        </button>
      </div>
    `;
  }

  private renderHead(column: SortColumn, place: number) {
    if (column.isBare) return html`<th scope="col"><span class="visually-hidden">${column.title}</span></th>`;
    const isOwn = this.order?.key === column.key;
    const way = !isOwn ? 'none' : this.order?.isDown ? 'descending' : 'ascending';
    const span = this.isNameAbove && place === 0 ? this.columns.length - 1 : nothing;
    return html`<th scope="col" colspan=${span} class=${sideOf(column, place)} aria-sort=${way}>
      <button
        title="Sort by it; a third press brings back the order of the work"
        @click=${() => {
          this.order = nextOrder(this.order, column.key);
        }}
      >
        <span>${column.title}</span>
        ${way === 'none' ? nothing : html`<span aria-hidden="true">${way === 'ascending' ? '\u2191' : '\u2193'}</span>`}
      </button>
    </th>`;
  }

  private renderRow(row: SortRow) {
    const classes = `${row.isMarked ? 'marked' : ''} ${row.detail ? 'with-detail' : ''}`;
    const isAbove = this.isNameAbove;
    return html`${isAbove ? html`<tr class="above ${classes}">${this.renderCell(row, this.columns[0], 0)}</tr>` : nothing}
      <tr class=${isAbove ? (row.detail ? 'with-detail' : '') : classes}>
        ${this.columns.map((column, n) => (isAbove && n === 0 ? nothing : this.renderCell(row, column, n)))}
      </tr>
      ${
        row.detail
          ? html`<tr class="detail">
            <td colspan=${this.columns.length - Number(isAbove)}>${row.detail}</td>
          </tr>`
          : nothing
      }`;
  }

  private renderCell(row: SortRow, column: SortColumn, place: number) {
    const cell: SortCell | undefined = row.cells[column.key];
    const words = html`${cell?.view ?? cell?.text ?? ''}${cell?.under?.map((line) => html`<span class="bound">${line}</span>`)}`;
    const side = sideOf(column, place);
    if (place > 0)
      return html`<td class="${side} ${side === 'start' ? 'wrap' : ''} ${cell?.tone ?? ''}">${words}</td>`;
    const span = this.isNameAbove ? this.columns.length - 1 : nothing;
    return html`<th scope="row" colspan=${span} class="${side} ${cell?.tone ?? ''}">
      ${
        row.swatch
          ? html`<span class="name"><span class="swatch ${row.swatch}"></span><span>${words}</span></span>`
          : words
      }
    </th>`;
  }

  private readonly copy = async (): Promise<void> => {
    const rows = [...sortRows(this.rows, this.order), ...this.totals];
    const isDone = await copyText(
      tableText(
        this.columns.filter(({ isBare }) => !isBare),
        rows,
      ),
    );
    announce(
      isDone
        ? `Copied with its heads: ${this.caption}, ${rows.length} ${rows.length === 1 ? 'row' : 'rows'}.`
        : 'The browser did not let the table be copied.',
    );
    if (!isDone) return;
    this.isCopied = true;
    clearTimeout(this.copiedTimer);
    this.copiedTimer = setTimeout(() => {
      this.isCopied = false;
    }, 2500);
  };
}

function sideOf({ align }: SortColumn, place: number): 'start' | 'end' {
  return align ?? (place === 0 ? 'start' : 'end');
}
