import { css, html, LitElement, unsafeCSS } from 'lit';
import { customElement, property } from 'lit/decorators.js';
import { unsafeHTML } from 'lit/directives/unsafe-html.js';
import type { PlanDocument } from '../core/plan/PlanDocument.ts';
import { buildSheet } from '../report/sheet/buildSheet.ts';
import { figureOf } from '../report/sheet/figureOf.ts';
import { pageRules } from '../report/sheet/pageRules.ts';
import { renderSheet } from '../report/sheet/renderSheet.ts';
import { SHEET_CSS } from '../report/sheet/sheetCss.ts';
import { isStale, type SessionState } from '../session/SessionStore.ts';
import type { DrawnSide } from './control/SideDrawer.ts';

const STALE = 'These numbers answer an earlier plan; a new answer is under way.';

/**
 * The shop sheet, as the report makes it. On the screen it lies on the table; printed, it is all there is. Nothing is laid out
 * while it is out of sight, but the browser's own print command brings it up to date first.
 */
@customElement('scute-shop-sheet')
export class ShopSheet extends LitElement {
  static override styles = [
    css`
      :host {
        display: block;
        overflow: auto;
        background: var(--paper-sunk);
        padding: 24px;
      }
      .paper {
        max-width: 820px;
        margin: 0 auto;
        padding: 28px;
        /* Paper stays paper on a dark page. */
        color-scheme: light;
        background: var(--paper-print);
        color: var(--ink);
        border: 1px solid var(--line-soft);
        box-sizing: border-box;
      }
      /* Said only when the pictures are long in coming: they are drawn anew at each visit. Paper has it at once. */
      @media screen {
        .no-figures {
          animation: no-figures-late 0s 3s both;
        }
      }
      @keyframes no-figures-late {
        from {
          visibility: hidden;
        }
      }
      @media (max-width: 640px) {
        :host {
          padding: 0;
        }
        .paper {
          padding: 10px;
          border: none;
        }
      }
      @media print {
        :host {
          padding: 0;
          overflow: visible;
          background: none;
        }
        .paper {
          max-width: none;
          padding: 0;
          border: none;
        }
      }
    `,
    unsafeCSS(SHEET_CSS),
    css`
      /* What is below the window is laid out when it comes near: the sheet is there at once. */
      @media screen {
        section {
          content-visibility: auto;
          contain-intrinsic-block-size: auto 480px;
        }
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  /** The mould from its sides; null while they are not drawn, which the sheet then says. */
  @property({ attribute: false }) sides: readonly DrawnSide[] | null = null;

  /** The plan that the answer in sight answers: the present one may have other coats already. */
  private answered: { readonly plan: PlanDocument; readonly revision: number } | null = null;
  private isPrinting = false;
  private made: { readonly from: readonly unknown[]; readonly body: string } | null = null;
  /** Rules for the paper, which mean nothing in a shadow tree. */
  private readonly pageSheet = new CSSStyleSheet();

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener('beforeprint', this.onBeforePrint);
    window.addEventListener('afterprint', this.onAfterPrint);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, this.pageSheet];
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener('beforeprint', this.onBeforePrint);
    window.removeEventListener('afterprint', this.onAfterPrint);
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((sheet) => sheet !== this.pageSheet);
  }

  override willUpdate(): void {
    const { answer, plan } = this.session;
    if (answer && !isStale(this.session)) this.answered = { plan, revision: answer.revision };
  }

  override render() {
    const body = this.session.prefs.stage === 'sheet' || this.isPrinting ? this.bodyNow() : '';
    if (body === null) {
      return html`<div class="paper"><p>The sheet is filled in when the plan is worked out.</p></div>`;
    }
    // Our own renderer wrote it, and escapes all that comes from a file or the user.
    return html`<div class="paper">${unsafeHTML(body)}</div>`;
  }

  /** The sheet's HTML, made anew only when something on it changed; null while there is no answer to put on it. */
  private bodyNow(): string | null {
    const { answer, scan, prefs } = this.session;
    const { answered } = this;
    if (!answer || !scan || answered?.revision !== answer.revision) return null;
    const staleness = isStale(this.session) ? STALE : '';
    const from = [answer.result, answered.plan, this.sides, prefs.units, staleness];
    if (this.made?.from.every((value, n) => value === from[n])) return this.made.body;
    const figures = this.sides?.map(({ picture, href }) => figureOf(picture, href, prefs.units)) ?? null;
    const sheet = buildSheet(answered.plan, answer.result, figures, prefs.units, staleness);
    this.pageSheet.replaceSync(pageRules(sheet.job, null));
    const { body } = renderSheet(sheet);
    this.made = { from, body };
    return body;
  }

  private readonly onBeforePrint = () => {
    this.isPrinting = true;
    this.requestUpdate();
    // The browser takes the page as it stands when this returns.
    this.performUpdate();
  };

  private readonly onAfterPrint = () => {
    this.isPrinting = false;
    this.requestUpdate();
  };
}
