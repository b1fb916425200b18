import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { ScanNote } from '../../../core/PlanResult.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { CommandEvent, PrefsEvent } from '../../events.ts';
import { foundSketch } from '../../figure/legend/foundSketch.ts';
import { renderSketch } from '../../figure/sketch/renderSketch.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { facesLeftOut, placesOf } from './placesOf.ts';

/** What was found in the scan and what was mended, a sentence each, with its key and the way to where it is. */
@customElement('scute-found-list')
export class FoundList extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      li {
        padding: 8px 0;
        border-bottom: 1px solid var(--line-soft);
      }
      .place {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: 8px;
        margin-top: 4px;
      }
      .place .small {
        flex: 1;
      }
      .place svg {
        flex: none;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;

  /** Which place of the findings that are drawn stronger was flown to last. */
  @state() private placeAt = 0;

  override render() {
    const report = this.session.answer?.result.scan;
    const opened = this.session.scan?.opened.notes ?? [];
    const known = new Set(report ? [...report.warnings, ...report.repairs].map((n) => n.text) : []);
    const found = [...opened.filter((n) => !known.has(n.text)), ...(report?.warnings ?? [])];
    const mended = report?.repairs ?? [];
    return html`
      <h3>Found</h3>
      ${found.length === 0 ? html`<p class="soft">Nothing out of order.</p>` : this.renderNotes(found)}
      <h3>Mended</h3>
      ${
        mended.length === 0
          ? html`<p class="soft">Nothing; the scan is used as it is.</p>`
          : this.renderNotes(mended)
      }
    `;
  }

  private renderNotes(notes: readonly ScanNote[]) {
    return html`<ul>
      ${notes.map(
        (note) => html`<li>
          ${readSaid(note, 'text', this.session.prefs.units)} ${this.renderPlace(note)}
        </li>`,
      )}
    </ul>`;
  }

  /** The key and the buttons of a finding that has a place. */
  private renderPlace({ code, text }: ScanNote) {
    const marks = this.session.answer?.geometry.marks ?? [];
    const count = placesOf(marks, code).length;
    if (count === 0) return nothing;
    const isShown = this.session.prefs.foundShown === code;
    const at = this.placeAt % count;
    const leftOut = facesLeftOut(marks, code);
    const where =
      count === 1 ? 'in one place' : isShown ? `${at + 1} of ${count} places` : `in ${count} places`;
    return html`<div class="place">
      ${renderSketch(foundSketch(code, isShown ? '--accent' : '--ink'))}
      <span class="small soft">
        ${where}${
          leftOut
            ? html`; ${leftOut.drawn.toLocaleString('en')} of ${leftOut.faces.toLocaleString('en')} faces drawn`
            : nothing
        }
      </span>
      ${
        isShown && count > 1
          ? html`<button ?disabled=${isStale(this.session)} @click=${() => this.show(code, at + 1)}>Next</button>`
          : nothing
      }
      <button
        aria-pressed=${isShown}
        aria-label="Show: ${text}"
        ?disabled=${isStale(this.session)}
        @click=${() => (isShown ? this.prefer(null) : this.show(code, 0))}
      >
        Show
      </button>
    </div>`;
  }

  /** Flies to a place of these findings and draws all of them stronger. */
  private show(code: string, place: number): void {
    const places = placesOf(this.session.answer?.geometry.marks ?? [], code);
    if (places.length === 0) return;
    this.placeAt = place % places.length;
    this.prefer(code);
    this.dispatchEvent(new CommandEvent({ do: 'fly-to', atMm: places[this.placeAt] }));
  }

  private prefer(foundShown: string | null): void {
    this.dispatchEvent(new PrefsEvent({ foundShown }));
  }
}
