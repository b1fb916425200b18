import { css, html, LitElement, nothing } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import type { ScanNote } from '../../../core/PlanResult.ts';
import type { LeavableRepair } from '../../../core/plan/leavableRepairs.ts';
import { groupDigits } from '../../../core/units.ts';
import { readSaid } from '../../../report/readSaid.ts';
import { isStale, type SessionState } from '../../../session/SessionStore.ts';
import { repairBehind, setMended } from '../../../session/scanActions.ts';
import { CommandEvent, PlanEditEvent, PrefsEvent } from '../../events.ts';
import { foundSketch } from '../../figure/legend/foundSketch.ts';
import { renderSketch } from '../../figure/sketch/renderSketch.ts';
import { sharedStyles } from '../../sharedStyles.ts';
import { panelStyles } from '../panelStyles.ts';
import { facesLeftOut, placesOf } from './placesOf.ts';

/** What is said of a repair that the plan leaves undone where the answer does not speak of it. */
const LEFT: Readonly<Record<LeavableRepair, string>> = {
  'crumbs-dropped': 'Loose crumbs stay in.',
  'flakes-dropped': 'Flakes cut off at the board stay in.',
  'inner-parts-dropped': 'Parts inside the scan stay in.',
  'holes-filled': 'Small holes stay open.',
  'base-levelled': 'An uneven base stays uneven.',
  'skirt-added': 'A foot above the board gets no skirt.',
  'table-cut-away': 'A table under the scan stays in.',
  'cut-closed': 'Cuts of the crop stay open.',
};

/**
 * What was found in the scan, what was mended and what was left, a sentence each, with its key and the way to where it is; what can be
 * left undone has a tick.
 */
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

  /** The repair ticked last, as long as the focus is on it. */
  private ticked: LeavableRepair | null = null;

  override render() {
    const report = this.session.answer?.result.scan;
    const opened = this.session.scan?.opened.notes ?? [];
    const known = new Set(report ? [...report.warnings, ...report.repairs].map((n) => n.text) : []);
    const isLeft = ({ code }: ScanNote): boolean => repairBehind(code)?.isLeft === true;
    const warnings = report?.warnings ?? [];
    const found = [...opened.filter((n) => !known.has(n.text)), ...warnings.filter((n) => !isLeft(n))];
    const mended = report?.repairs ?? [];
    const left = [...warnings.filter(isLeft), ...this.idleOnes([...warnings, ...mended])];
    return html`
      <h3>Found</h3>
      ${found.length === 0 ? html`<p class="soft">Nothing out of order.</p>` : this.renderNotes(found)}
      <h3>Mended</h3>
      ${
        mended.length === 0
          ? html`<p class="soft">Nothing; the scan is used as it is.</p>`
          : html`${this.renderNotes(mended)}
              ${
                mended.every(({ code }) => repairBehind(code))
                  ? nothing
                  : html`<p class="soft small after">
                      What has no tick is always done: without it the scan is no surface with an outside, or it
                      follows from what is set above.
                    </p>`
              }`
      }
      ${left.length === 0 ? nothing : html`<h3>Left as it is</h3> ${this.renderNotes(left)}`}
    `;
  }

  /** Repairs that the plan leaves undone and of which nothing is said: the scan does not call for them, or no plan could be made of it. */
  private idleOnes(said: readonly ScanNote[]): ScanNote[] {
    const isNone = this.session.answer !== null && !isStale(this.session);
    const named = new Set(said.map(({ code }) => repairBehind(code)?.repair));
    return this.session.plan.scan.leave
      .filter((repair) => !named.has(repair))
      .map((code) => ({ code, text: `${LEFT[code]}${isNone ? ' Nothing of the kind is found now.' : ''}` }));
  }

  private renderNotes(notes: readonly ScanNote[]) {
    return html`<ul>
      ${repeat(
        notes,
        ({ code, text }) => `${code} ${text}`,
        (note) => html`<li>
          ${readSaid(note, 'text', this.session.prefs.units)} ${this.renderPlace(note)}
        </li>`,
      )}
    </ul>`;
  }

  /** The key and the buttons of a finding that has a place, and the tick of a repair that can be left undone. */
  private renderPlace(note: ScanNote) {
    const { code, text } = note;
    const marks = this.session.answer?.geometry.marks ?? [];
    const count = placesOf(marks, code).length;
    if (count === 0) return this.renderTick(note);
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
            ? html`; ${groupDigits(String(leftOut.drawn))} of ${groupDigits(String(leftOut.faces))} faces drawn`
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
      ${this.renderTick(note)}
    </div>`;
  }

  private renderTick(note: ScanNote) {
    const repair = repairBehind(note.code)?.repair;
    if (!repair) return nothing;
    return html`<label class="check">
      <input
        type="checkbox"
        data-repair=${repair}
        aria-label="Mend: ${readSaid(note, 'text', this.session.prefs.units)}"
        .checked=${!this.session.plan.scan.leave.includes(repair)}
        @change=${(e: Event) => this.mend(repair, (e.target as HTMLInputElement).checked)}
      />
      Mend
    </label>`;
  }

  private mend(repair: LeavableRepair, isMended: boolean): void {
    this.ticked = repair;
    this.dispatchEvent(new PlanEditEvent(setMended(repair, isMended)));
  }

  /** The tick under the hand goes with its sentence to the other list, and keeps the focus there. */
  protected override updated(): void {
    if (this.ticked === null) return;
    const root = this.renderRoot as ShadowRoot;
    if (document.activeElement !== document.body) {
      const at = root.activeElement?.getAttribute('data-repair');
      if (at !== this.ticked) this.ticked = null;
      return;
    }
    root.querySelector<HTMLElement>(`[data-repair=${this.ticked}]`)?.focus({ preventScroll: true });
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
