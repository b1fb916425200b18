import { css, html, LitElement, nothing, svg } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { BatchResult, TaskResult } from '../../core/PlanResult.ts';
import type { UnitSystem } from '../../core/units.ts';
import { sayClock, sayDay, sayMinutes } from '../../report/sayClock.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { type DayRow, dayRows } from './dayRows.ts';
import { type AxisSpan, type DayAxis, foldDay, xOnAxis } from './foldDay.ts';
import { StartTimerEvent } from './StartTimerEvent.ts';
import { sayStep } from './sayStep.ts';
import { shortWord } from './shortWord.ts';
import { stepTimer } from './stepTimer.ts';
import { svgFile } from './svgFile.ts';

/** Heights in the picture, px: the two lines of the head, a row's name with its coats, a lane with its bar, the gap below. */
const HEAD = 44;
const NAME = 40;
const LANE = 34;
const BAR = 28;
const GAP = 8;

/** Mean width of a character of the face at the size of the bars' words, px, a little on the safe side. */
const CHARACTER = 7;
/** Kept free at each end of a bar beside its word, px. */
const PADDING = 4;
/** A bar is never drawn narrower, px, so that it can be seen at all. */
const LEAST_WIDTH = 3;

interface Bar {
  readonly task: TaskResult;
  readonly row: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/**
 * The day as bars over clock time: a row a piece, nights folded. Work of the hands is dark, waits are light and hatched.
 * One bar is chosen at a time, by pointer or arrow keys, and told in words below.
 */
@customElement('scute-day-picture')
export class DayPicture extends LitElement {
  static override styles = [
    sharedStyles,
    css`
      :host {
        display: block;
      }
      .scroll {
        overflow-x: auto;
        border: 1px solid var(--line-soft);
        background: var(--paper-raised);
        position: relative;
      }
      .canvas {
        display: grid;
        width: max-content;
      }
      .canvas svg {
        grid-area: 1 / 1;
        display: block;
      }
      /* The rows' names stay at the left while the picture is drawn aside. */
      svg.names {
        position: sticky;
        left: 0;
        overflow: visible;
        pointer-events: none;
      }
      svg.names text {
        font-size: 15px;
        font-weight: bold;
        paint-order: stroke;
        stroke: var(--paper-raised);
        stroke-width: 5px;
      }
      svg text {
        font-family: var(--face);
        font-size: 13px;
        fill: var(--ink);
      }
      svg .soft {
        fill: var(--ink-soft);
      }
      svg .day {
        font-weight: bold;
      }
      .hour {
        stroke: var(--line-soft);
      }
      .border {
        stroke: var(--line);
      }
      .night {
        fill: var(--paper-sunk);
      }
      .tear {
        fill: none;
        stroke: var(--line-control);
      }
      /* A line of paper between steps that follow each other. */
      .bar.hands rect {
        fill: var(--ink);
        stroke: var(--paper-raised);
      }
      .bar.hands text {
        fill: var(--paper);
      }
      .bar.alone .ground {
        fill: var(--paper-raised);
        stroke: var(--line-control);
      }
      .bar.alone .hatch {
        fill: url(#hatch);
        stroke: none;
      }
      .bar.alone text {
        paint-order: stroke;
        stroke: var(--paper-raised);
        stroke-width: 5px;
        stroke-linejoin: round;
      }
      .hatching {
        stroke: var(--ink-soft);
        stroke-width: 1.4;
      }
      .bar {
        cursor: pointer;
      }
      .bar:focus {
        outline: none;
      }
      .ring {
        fill: none;
        stroke: var(--accent);
        stroke-width: 3;
        pointer-events: none;
      }
      svg:has(.bar:focus-visible) .ring {
        stroke-dasharray: 6 2;
      }
      .now {
        stroke: var(--accent);
        stroke-width: 2;
      }
      svg .now-word {
        fill: var(--accent);
        font-weight: bold;
      }
      .legend {
        display: flex;
        flex-wrap: wrap;
        gap: 4px 16px;
        margin-top: 8px;
        font-size: var(--size-small);
        color: var(--ink-soft);
        align-items: center;
      }
      .legend span {
        display: inline-flex;
        gap: 6px;
        align-items: center;
      }
      .legend i {
        display: inline-block;
        width: 24px;
        height: 14px;
        border: 1px solid var(--line);
      }
      .legend .hands {
        background: var(--ink);
      }
      .legend .alone {
        border-color: var(--line-control);
        background: repeating-linear-gradient(135deg, var(--ink-soft) 0 1.4px, var(--paper-raised) 1.4px 6px);
      }
      .legend .night {
        background: var(--paper-sunk);
        border-color: var(--line-control);
      }
      .detail {
        border: 1px solid var(--line-control);
        background: var(--paper-raised);
        padding: 10px 12px;
        margin-top: 10px;
        min-height: 96px;
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: 2px 12px;
        align-items: center;
      }
      .detail p {
        grid-column: 1;
      }
      .detail button {
        grid-column: 2;
        grid-row: 1 / span 3;
      }
    `,
  ];

  @property({ attribute: false }) tasks: readonly TaskResult[] = [];
  /** In the order of the rows. */
  @property({ attribute: false }) pieces: readonly { readonly id: string; readonly label: string }[] = [];
  /** Those of the steps that are batches: their working time is what a timer counts. */
  @property({ attribute: false }) batches: readonly BatchResult[] = [];
  /** Key of the job, whose timers are its own. */
  @property() job = '';
  @property({ attribute: false }) startDate: string | null = null;
  @property({ type: Number }) hands = 1;
  @property() units: UnitSystem = 'metric';
  /** Width of an hour, px. */
  @property({ type: Number }) perHour = 76;
  /** The present, minutes after midnight of the first day; null where the days are not fixed. */
  @property({ attribute: false }) nowMin: number | null = null;

  @state() private chosen: string | null = null;

  /** The picture as a file of its own, with its colours and its key written into it; null when there is nothing to draw. */
  pictureFile(): string | null {
    const drawn = this.renderRoot.querySelector<SVGSVGElement>('svg.day-picture');
    const names = this.renderRoot.querySelector<SVGSVGElement>('svg.names');
    const paper = this.renderRoot.querySelector('.scroll');
    if (drawn === null || paper === null) return null;
    return svgFile(drawn, names, getComputedStyle(paper).backgroundColor, [
      'filled: hands on; hatched: goes on by itself; figure: number of the batch',
      'clock time in hours; nights folded, not to scale',
    ]);
  }

  override render() {
    if (this.tasks.length === 0) return html`<p class="note">There is nothing left to do.</p>`;
    const axis = foldDay(this.tasks, this.perHour);
    const rows = dayRows(this.tasks, this.pieces, this.hands);
    const tops = topsOf(rows);
    const bars = barsOf(rows, tops, axis);
    const height = tops[rows.length];
    const chosen = bars.find(({ task }) => task.id === this.chosen) ?? bars[0];
    return html`
      <div class="scroll">
        <div class="canvas">
          <svg
            class="day-picture"
            width=${axis.width}
            height=${height}
            viewBox="0 0 ${axis.width} ${height}"
            role="radiogroup"
            aria-label="Steps of the day by clock time; arrow keys go from step to step"
            @keydown=${(e: KeyboardEvent) => this.walk(e, bars, chosen)}
          >
            <defs>
              <pattern
                id="hatch"
                width="6"
                height="6"
                patternUnits="userSpaceOnUse"
                patternTransform="rotate(45)"
              >
                <line class="hatching" x1="0" y1="0" x2="0" y2="6" />
              </pattern>
            </defs>
            ${this.renderAxis(axis, height)} ${rows.map((row, i) => this.renderRowName(row, tops[i], axis))}
            ${bars.map((bar) => this.renderBar(bar, bar === chosen))}
            <rect
              class="ring"
              x=${chosen.x - 2}
              y=${chosen.y - 2}
              width=${chosen.width + 4}
              height=${BAR + 4}
            />
            ${this.renderNow(axis, height)}
          </svg>
          <svg class="names" width="1" height=${height} aria-hidden="true">
            ${rows.map((row, i) => svg`<text x="6" y=${tops[i] + 17}>${row.label}</text>`)}
          </svg>
        </div>
      </div>
      <div class="legend">
        <span><i class="hands"></i>hands on</span>
        <span><i class="alone"></i>goes on by itself</span>
        <span><i class="night"></i>folded, not to scale</span>
        <span>figure: number of the batch</span>
      </div>
      ${this.renderDetail(chosen.task)}
    `;
  }

  /** Nights first: the hours at their edges are written over them. */
  private renderAxis(axis: DayAxis, height: number) {
    return svg`
      ${axis.spans.map((span) => (span.isFolded ? this.renderNight(span, height) : nothing))}
      ${axis.spans.map((span, i) => (span.isFolded ? nothing : this.renderHours(axis, i, height)))}`;
  }

  private renderNight({ x, width, fromMin, toMin }: AxisSpan, height: number) {
    const tear = Array.from({ length: Math.ceil((height - HEAD) / 8) + 1 }, (_, k) => {
      const at = x + width / 2 + (k % 2 === 0 ? -3 : 3);
      return `${at},${HEAD + 8 * k}`;
    }).join(' ');
    return svg`
      <rect class="night" x=${x} y="0" width=${width} height=${height} />
      <polyline class="tear" points=${tear} />
      <text class="soft" x=${x + width / 2} y="18" text-anchor="middle">${sayFolded(toMin - fromMin)}</text>`;
  }

  private renderHours(axis: DayAxis, index: number, height: number) {
    const { x, fromMin, toMin } = axis.spans[index];
    const first = Math.ceil(fromMin / 60);
    const hours = Array.from({ length: Math.floor(toMin / 60) - first + 1 }, (_, k) => (first + k) * 60);
    const day = (minutes: number) => sayDay(minutes, null, 'metric');
    const isNewDay = index === 0 || day(fromMin) !== day(axis.spans[index - 1].fromMin);
    return svg`
      ${hours.map((at) => {
        const lineX = xOnAxis(axis, at);
        const anchor = lineX < 20 ? 'start' : lineX > axis.width - 20 ? 'end' : 'middle';
        return svg`
          <line class="hour" x1=${lineX} x2=${lineX} y1=${HEAD - 6} y2=${height} />
          <text class="soft" x=${anchor === 'start' ? 2 : lineX} y=${HEAD - 10} text-anchor=${anchor}>${sayHour(at, this.units)}</text>`;
      })}
      ${isNewDay ? svg`<text class="day" x=${x + 4} y="16">${sayDay(fromMin, this.startDate, this.units)}</text>` : nothing}`;
  }

  /** The row's border, and over its first step each coat by name, where there is room. */
  private renderRowName(row: DayRow, top: number, axis: DayAxis) {
    // The row's own name stands at the left until the picture is drawn aside.
    let freeX = 0;
    const seen = new Set<number>();
    const coats = row.key.startsWith('piece ') ? row.lanes.flat() : [];
    return svg`
      <line class="border" x1="0" x2=${axis.width} y1=${top} y2=${top} />
      ${coats.map(({ coat, coatNumber, startMin }) => {
        if (coat === null || coatNumber === null || seen.has(coatNumber)) return nothing;
        seen.add(coatNumber);
        const x = xOnAxis(axis, startMin);
        const word = `${coatNumber + 1} ${coat}`;
        if (x < freeX) return nothing;
        freeX = x + word.length * CHARACTER + PADDING;
        return svg`<text class="soft" x=${x} y=${top + NAME - 6}>${word}</text>`;
      })}`;
  }

  private renderBar({ task, x, y, width }: Bar, isChosen: boolean) {
    const { what, attended } = task;
    const word = shortWord(task);
    const words = sayStep(task, this.startDate, this.hands, this.units);
    const fits = word.length * CHARACTER + 2 * PADDING <= width;
    return svg`<g
      class="bar ${attended ? 'hands' : 'alone'}"
      role="radio"
      tabindex=${isChosen ? 0 : -1}
      aria-checked=${isChosen}
      aria-label="${what}, ${words.when}, ${words.how}"
      data-step=${task.id}
      @click=${() => this.choose(task.id)}
      @focus=${() => {
        this.chosen = task.id;
      }}
    >
      <title>${what}: ${words.when}</title>
      <rect class="ground" x=${x} y=${y} width=${width} height=${BAR} />
      ${attended ? nothing : svg`<rect class="hatch" x=${x} y=${y} width=${width} height=${BAR} />`}
      ${fits ? svg`<text x=${x + width / 2} y=${y + BAR / 2 + 4.5} text-anchor="middle">${word}</text>` : nothing}
    </g>`;
  }

  private renderNow(axis: DayAxis, height: number) {
    const { nowMin } = this;
    const first = axis.spans[0].fromMin;
    const last = axis.spans.at(-1)?.toMin ?? first;
    if (nowMin === null || nowMin < first || nowMin > last) return nothing;
    const x = xOnAxis(axis, nowMin);
    return svg`
      <line class="now" x1=${x} x2=${x} y1="22" y2=${height} />
      <text class="now-word" x=${x + 4} y=${HEAD + 14}>now</text>`;
  }

  private renderDetail(task: TaskResult) {
    const timer = stepTimer(
      this.job,
      task,
      this.batches,
      (id) => this.pieces.find((piece) => piece.id === id)?.label ?? id,
    );
    const words = sayStep(task, this.startDate, this.hands, this.units);
    return html`<div class="detail" aria-live="polite">
      <p><b>${task.what}</b></p>
      <p>${words.when}</p>
      <p class="soft">${words.how}${words.bounds ? html`<br />${words.bounds}` : nothing}</p>
      <button
        aria-label="Timer ${sayMinutes(timer.minutes)}: ${timer.label}"
        @click=${() => this.dispatchEvent(new StartTimerEvent(timer))}
      >
        Timer ${sayMinutes(timer.minutes)}
      </button>
    </div>`;
  }

  /** Left and right go through a row, up and down to the step of the next row nearest in time, Home and End to the ends. */
  private walk(event: KeyboardEvent, bars: readonly Bar[], from: Bar): void {
    const next = nextBar(event.key, bars, from);
    if (next === undefined) return;
    event.preventDefault();
    this.choose(next.task.id);
  }

  private choose(id: string): void {
    this.chosen = id;
    void this.updateComplete.then(() => {
      const bar = this.renderRoot.querySelector<SVGGElement>(`[data-step="${CSS.escape(id)}"][tabindex="0"]`);
      bar?.focus({ preventScroll: true });
      bar?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
    });
  }
}

/** Top of each row and, last, the height of all. */
function topsOf(rows: readonly DayRow[]): readonly number[] {
  const tops = [HEAD];
  for (const row of rows) tops.push(tops[tops.length - 1] + NAME + row.lanes.length * LANE + GAP);
  return tops;
}

function barsOf(rows: readonly DayRow[], tops: readonly number[], axis: DayAxis): readonly Bar[] {
  return rows.flatMap((row, i) =>
    row.lanes.flatMap((lane, k) =>
      lane.map((task) => {
        const x = xOnAxis(axis, task.startMin);
        const width = Math.max(LEAST_WIDTH, xOnAxis(axis, task.endMin) - x);
        return { task, row: i, x, y: tops[i] + NAME + k * LANE, width };
      }),
    ),
  );
}

function nextBar(key: string, bars: readonly Bar[], from: Bar): Bar | undefined {
  const own = bars.filter(({ row }) => row === from.row).toSorted((a, b) => a.x - b.x);
  const at = own.indexOf(from);
  switch (key) {
    case 'ArrowRight':
      return own[at + 1];
    case 'ArrowLeft':
      return own[at - 1];
    case 'Home':
      return own[0];
    case 'End':
      return own.at(-1);
    case 'ArrowDown':
    case 'ArrowUp': {
      const row = from.row + (key === 'ArrowDown' ? 1 : -1);
      return bars
        .filter((bar) => bar.row === row)
        .toSorted((a, b) => Math.abs(a.x - from.x) - Math.abs(b.x - from.x))[0];
    }
    default:
      return undefined;
  }
}

/** An hour on the axis: "08:00", or "8 am" where there is less room to spare. */
function sayHour(minutes: number, units: UnitSystem): string {
  return units === 'us' ? sayClock(minutes, units).replace(':00', '') : sayClock(minutes, units);
}

/** How long a folded stretch is, to the hour: "15 h". */
function sayFolded(minutes: number): string {
  return `${Math.round(minutes / 60)} h`;
}
