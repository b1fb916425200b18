import { css, html, LitElement, nothing, type PropertyValues, svg } from 'lit';
import { customElement, property, state } from 'lit/decorators.js';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import type { PullChart } from '../../core/parting/pulls/PullChart.ts';
import { formatArea, formatLength, formatVolume, type UnitSystem } from '../../core/units.ts';
import { sayPull } from '../../report/sayPull.ts';
import type { SessionState } from '../../session/SessionStore.ts';
import { workInSlices } from '../../view/surface/workInSlices.ts';
import {
  bandsOf,
  type ChartBand,
  isDiscReady,
  prepareDisc,
  spreadOnDisc,
  spreadSet,
} from '../chart/chartBands.ts';
import { type ChartedQuantity, chartLevels } from '../chart/chartLevels.ts';
import { nearestDirection } from '../chart/nearestDirection.ts';
import { discOf, type PullDisc, placeOnDisc, pullAt, roundPull, stepPull } from '../chart/pullDisc.ts';
import type { CharterState } from '../control/PullCharter.ts';
import { CommandEvent, PlanEditEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { setPiecePull, setPullPair } from '../setPiecePull.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { panelStyles } from './panelStyles.ts';
import '../fields/ChoiceField.ts';

/** Radius of the disc in the picture's own units; the words stand outside. */
const RADIUS = 100;
/** Half of the picture's side. */
const HALF_VIEW = 122;

/** An arrow key turns or tilts the pull by this much, degrees; with Shift by one. */
const KEY_STEP_DEG = 5;

/** Tones of the bands beside bare paper; see the styles. As many as a chart has levels at most. */
const TONE_COUNT = 6;

/** Less than this is as good as none: the least that is worth a mark on the chart, mm3 and mm2. */
const NEXT_TO_NONE = {
  metric: { filler: 1e3, area: 1e2 },
  us: { filler: 25.4 ** 3 / 10, area: 25.4 ** 2 / 10 },
} as const;

const DEFAULT_DISC: PullDisc = { rimDeg: 90 };

/**
 * How bad each pull is, seen from above: straight up in the middle, level on the rim. Bands of grey with contours between
 * them; the present pull and the best ones marked. A click, a tap or the arrow keys set the pull.
 */
@customElement('scute-pull-chart')
export class PullChartView extends LitElement {
  static override styles = [
    sharedStyles,
    panelStyles,
    css`
      .choices {
        display: grid;
        gap: 10px;
      }
      .chart {
        display: grid;
        grid-template-columns: minmax(0, 232px) minmax(112px, 1fr);
        gap: 6px 12px;
        align-items: start;
        margin-top: 10px;
      }
      svg.disc {
        display: block;
        width: 100%;
        touch-action: manipulation;
        cursor: crosshair;
      }
      svg.disc.still {
        cursor: default;
      }
      svg.disc:focus-visible {
        outline-offset: -2px;
      }
      .old .bands,
      .old .legend {
        opacity: 0.45;
      }
      .ground {
        fill: var(--paper-raised);
        stroke: var(--line);
        stroke-width: 1.4;
      }
      /*
       * Mixed in OKLab (B. Ottosson, "A perceptual color space for image processing", 2020; CSS Color 4): equal steps in
       * the share of ink look like equal steps.
       */
      .tone-0 {
        --tone: var(--paper-raised);
      }
      .tone-1 {
        --tone: color-mix(in oklab, var(--ink) 12%, var(--paper-raised));
      }
      .tone-2 {
        --tone: color-mix(in oklab, var(--ink) 24%, var(--paper-raised));
      }
      .tone-3 {
        --tone: color-mix(in oklab, var(--ink) 36%, var(--paper-raised));
      }
      .tone-4 {
        --tone: color-mix(in oklab, var(--ink) 48%, var(--paper-raised));
      }
      .tone-5 {
        --tone: color-mix(in oklab, var(--ink) 60%, var(--paper-raised));
      }
      .tone-6 {
        --tone: color-mix(in oklab, var(--ink) 72%, var(--paper-raised));
      }
      .band {
        fill: var(--tone);
        fill-rule: evenodd;
        stroke: var(--ink);
        stroke-width: 0.7;
        vector-effect: non-scaling-stroke;
      }
      .ring,
      .axis {
        fill: none;
        stroke: var(--ink-soft);
        stroke-width: 0.6;
        stroke-dasharray: 2 3;
      }
      .clear {
        fill: none;
        stroke: var(--accent);
        stroke-width: 2;
        stroke-dasharray: 7 3;
        vector-effect: non-scaling-stroke;
      }
      text {
        font-size: 12.5px;
        fill: var(--ink-soft);
        text-anchor: middle;
        dominant-baseline: central;
      }
      text.rise {
        font-size: 10.5px;
        paint-order: stroke;
        stroke: var(--paper-raised);
        stroke-width: 3;
      }
      .now line {
        stroke: var(--accent);
        stroke-width: 2.4;
      }
      .now .halo {
        stroke: var(--paper-raised);
        stroke-width: 5;
      }
      .now circle {
        fill: var(--accent);
        stroke: var(--paper-raised);
        stroke-width: 2;
      }
      .best circle {
        fill: var(--paper-raised);
        stroke: var(--ink);
        stroke-width: 1.6;
      }
      .best text {
        fill: var(--ink);
        font-weight: bold;
        font-size: 11.5px;
      }
      .other rect {
        stroke: var(--line);
        stroke-width: 1.2;
      }
      .cursor {
        fill: none;
        stroke: var(--accent);
        stroke-width: 2;
      }
      .side {
        min-width: 0;
        font-size: var(--size-small);
        line-height: 1.35;
      }
      .readout {
        min-height: 4.2em;
        margin-bottom: 8px;
      }
      .readout b {
        font-size: var(--size-body);
      }
      .legend li {
        display: flex;
        align-items: center;
        gap: 7px;
        white-space: nowrap;
        line-height: 1.5;
      }
      .legend .tone {
        width: 24px;
        height: 15px;
        border: 1px solid var(--line);
        background: var(--tone);
        flex: none;
      }
      .legend .tone.outlined {
        border: 2px dashed var(--accent);
        background: none;
      }
      .bests {
        margin-top: 10px;
      }
      .bests li {
        display: grid;
        grid-template-columns: 26px minmax(0, 1fr) auto;
        align-items: center;
        gap: 8px;
        border-bottom: 1px solid var(--line-soft);
        padding: 4px 0;
      }
      .bests .rank {
        width: 24px;
        height: 24px;
        border: 1.5px solid var(--ink);
        border-radius: 50%;
        display: grid;
        place-items: center;
        font-size: var(--size-small);
        font-weight: bold;
      }
    `,
  ];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) charter!: CharterState;

  @state() private quantity: ChartedQuantity = 'depth';
  /** The direction under the pointer. */
  @state() private pointed: Vec3 | null = null;
  private bands: readonly ChartBand[] = [];
  private levels: readonly number[] = [];
  private clearPath = '';
  private laidOutFrom = '';
  /** The chart that is made ready between frames. */
  private preparing: unknown = null;
  private laidOutOf: unknown = null;
  private clearingOf: unknown = null;

  override willUpdate(_changed: PropertyValues<this>): void {
    const { chart } = this.charter;
    const clearing = this.clearing();
    const isReady = chart !== null && isDiscReady(chart.directions);
    if (chart !== null && !isReady && this.preparing !== chart) {
      this.preparing = chart;
      workInSlices(prepareDisc(discOf(chart.directions), chart.directions, chart.stepDeg), () =>
        this.requestUpdate(),
      );
    }
    if (chart === null || !isReady) {
      this.bands = [];
      this.levels = [];
      this.clearPath = '';
      this.laidOutOf = null;
      this.clearingOf = null;
      return;
    }
    const key = `${this.quantity} ${this.session.prefs.units} ${this.session.plan.parting.rubberGiveMm}`;
    if (this.laidOutOf !== chart || this.laidOutFrom !== key) {
      this.laidOutOf = chart;
      this.laidOutFrom = key;
      const values = valuesOf(chart, this.quantity);
      this.levels = chartLevels(values, this.quantity, this.session.prefs.units, this.floor());
      this.bands = bandsOf(
        spreadOnDisc(discOf(chart.directions), chart.directions, values, chart.stepDeg),
        this.levels,
      );
      this.clearingOf = null;
    }
    if (this.clearingOf !== clearing) {
      this.clearingOf = clearing;
      this.clearPath =
        clearing.length === 0
          ? ''
          : bandsOf(spreadSet(discOf(chart.directions), chart.directions, clearing, chart.stepDeg), [0.5])[0]
              .path;
    }
  }

  override render() {
    const { answer } = this.session;
    if (!answer) return nothing;
    const { pieces } = answer.result;
    const { of, chart, problem } = this.charter;
    return html`
      <div class="choices">
        <scute-choice
          label="How bad each pull is, for"
          .options=${[
            { value: 'mould', text: pieces.length === 2 ? 'a pair' : 'the mould' },
            ...pieces.map(({ id }, i) => ({ value: String(i), text: id })),
          ]}
          .value=${String(of)}
          @value=${(e: ValueEvent<string>) =>
            this.ask({ do: 'chart-of', of: e.value === 'mould' ? 'mould' : Number(e.value) })}
        ></scute-choice>
        <scute-choice
          bare
          label="What the chart tells"
          .options=${[
            { value: 'depth', text: 'locks' },
            { value: 'filler', text: 'filler' },
            { value: 'area', text: 'undercut' },
          ]}
          .value=${this.quantity}
          @value=${(e: ValueEvent<ChartedQuantity>) => {
            this.quantity = e.value;
          }}
        ></scute-choice>
      </div>
      <div class="chart ${this.charter.isOld ? 'old' : ''}">
        ${this.renderDisc()}
        <div class="side">
          <div class="readout" aria-live="polite">${this.renderReadout()}</div>
          ${chart ? this.renderLegend() : nothing}
        </div>
      </div>
      ${problem ? html`<p class="problem" role="alert">The chart was not worked out. ${problem}</p>` : nothing}
      ${chart ? this.renderBests(chart) : nothing}
    `;
  }

  private renderDisc() {
    const { chart } = this.charter;
    const disc = this.disc();
    const now = this.present();
    const at = (pull: Vec3) => {
      const { x, y } = placeOnDisc(disc, pull);
      return { x: RADIUS * x, y: RADIUS * y };
    };
    const rises = disc.rimDeg === 90 ? [30, 60] : [0, 45];
    const dot = now ? at(now) : null;
    const pointed = this.pointed && this.canSet() ? at(this.pointed) : null;
    const shownBests = (chart?.best ?? []).map((i) => directionOf(chart as PullChart, i));
    return html`<svg
      class="disc ${this.canSet() ? '' : 'still'}"
      viewBox="${-HALF_VIEW} ${-HALF_VIEW} ${2 * HALF_VIEW} ${2 * HALF_VIEW}"
      tabindex="0"
      role="slider"
      aria-label="Pull of ${this.subjectName()}, seen from above. Left and right turn it, up and down tilt it."
      aria-valuemin="0"
      aria-valuemax="360"
      aria-valuenow=${now ? azimuthOf(now) : 0}
      aria-valuetext=${now ? this.sayDirection(now) : 'none'}
      aria-disabled=${this.canSet() ? 'false' : 'true'}
      @keydown=${this.onKey}
      @pointermove=${(e: PointerEvent) => {
        this.pointed = this.pullUnder(e);
      }}
      @pointerleave=${() => {
        this.pointed = null;
      }}
      @click=${this.onClick}
    >
      <clipPath id="rim"><circle r=${RADIUS}></circle></clipPath>
      <circle class="ground" r=${RADIUS}></circle>
      <g class="bands" clip-path="url(#rim)">
        <g transform="scale(${RADIUS})">
          ${this.bands.map(
            ({ path }, i) => svg`<path class=${`band tone-${this.tone(i)}`} d=${path}></path>`,
          )}
          ${this.clearPath ? svg`<path class="clear" d=${this.clearPath}></path>` : nothing}
        </g>
      </g>
      ${rises.map((rise) => {
        const r = (RADIUS * (90 - rise)) / disc.rimDeg;
        return svg`<circle class="ring" r=${r}></circle>
          <text class="rise" x=${r * Math.SQRT1_2} y=${-r * Math.SQRT1_2}>${rise === 0 ? 'level' : `${rise}\u00b0`}</text>`;
      })}
      <path class="axis" d="M${-RADIUS} 0H${RADIUS}M0 ${-RADIUS}V${RADIUS}"></path>
      <text y=${RADIUS + 12}>front</text>
      <text y=${-RADIUS - 12}>back</text>
      ${this.others().map(
        ({ pull, index }) =>
          svg`<g class="other" transform=${`translate(${at(pull).x} ${at(pull).y})`}><rect x="-7" y="-7" width="14" height="14" fill=${`var(--piece-${index % 6})`}></rect></g>`,
      )}
      ${shownBests.map((pull, i) => {
        const { x, y } = at(pull);
        return svg`<g class="best" transform=${`translate(${x} ${y})`}><circle r="9"></circle><text>${i + 1}</text></g>`;
      })}
      ${
        dot
          ? svg`<g class="now"><line class="halo" x1="0" y1="0" x2=${dot.x} y2=${dot.y}></line><line x1="0" y1="0" x2=${dot.x} y2=${dot.y}></line><circle cx=${dot.x} cy=${dot.y} r="7"></circle></g>`
          : nothing
      }
      ${pointed ? svg`<circle class="cursor" cx=${pointed.x} cy=${pointed.y} r="11"></circle>` : nothing}
    </svg>`;
  }

  private renderReadout() {
    const { chart, isUnderWay, isOld } = this.charter;
    const now = this.present();
    const pull = this.pointed && this.canSet() ? this.pointed : now;
    if (!pull) return nothing;
    const lead = pull === now ? 'now' : 'here';
    return html`<div class="soft">${lead}</div>
      <div><b class=${pull === now ? 'accent' : ''}>${sayPull(pull)}</b></div>
      ${
        chart
          ? html`<div>${this.sayFigures(chart, nearestDirection(chart.directions, pull))}</div>`
          : html`<div class="soft">${isUnderWay ? 'The chart is being worked out.' : 'The chart comes after the numbers.'}</div>`
      }
      ${chart && (isUnderWay || isOld) ? html`<div class="soft">Being brought up to date.</div>` : nothing}`;
  }

  private renderLegend() {
    const { units } = this.session.prefs;
    if (this.levels.length === 0) {
      return html`<p class="soft">Every direction is as good as free.</p>`;
    }
    const say = (value: number) => sayLevel(value, this.quantity, units);
    const last = this.levels.length - 1;
    const row = (tone: number, text: string) => html`<li><span class="tone tone-${tone}"></span>${text}</li>`;
    return html`<ul class="legend" aria-label="Bands of the chart">
      ${row(0, `to ${say(this.levels[0])}`)}
      ${this.levels.map((level, i) =>
        row(this.tone(i), i === last ? `over ${say(level)}` : `to ${say(this.levels[i + 1])}`),
      )}
      ${this.clearPath ? html`<li><span class="tone outlined"></span>comes off</li>` : nothing}
    </ul>`;
  }

  private renderBests(chart: PullChart) {
    if (chart.best.length === 0) return nothing;
    const clearing = this.clearing();
    return html`
      <ol class="bests" aria-label="Best pulls">
        ${chart.best.map((index, i) => {
          const pull = directionOf(chart, index);
          const edit = this.editFor(pull);
          return html`<li>
            <span class="rank" aria-hidden="true">${i + 1}</span>
            <span><b>${sayPull(pull)}</b><br /><span class="small soft">${this.sayFigures(chart, index)}</span></span>
            ${
              edit
                ? html`<button
                    aria-label="Take the pull ${sayPull(pull)}"
                    @click=${() => this.dispatchEvent(new PlanEditEvent(edit))}
                  >
                    Take
                  </button>`
                : nothing
            }
          </li>`;
        })}
      </ol>
      ${
        clearing.length > 0
          ? html`<p class="small soft after">
            ${clearing.length === 1 ? 'One direction' : `${clearing.length} directions`} of the grid, ${chart.stepDeg}° apart,
            free ${this.subjectName()} (outlined).
          </p>`
          : nothing
      }
      <p class="small soft after">
        For comparing, on a simplified surface. The figures of the pieces above are by rays on the whole scan.
      </p>
    `;
  }

  private sayFigures(chart: PullChart, i: number): string {
    const { units } = this.session.prefs;
    if (i < 0) return '';
    const depth = chart.depthMm[i];
    if (depth === 0 && chart.areaMm2[i] === 0) return 'free';
    const locks = `locks ${formatLength(depth, units)}`;
    const { quantity } = this;
    return quantity === 'area'
      ? `${locks}, ${formatArea(chart.areaMm2[i], units)}`
      : `${locks}, ${formatVolume(chart.fillerMm3[i], units)}`;
  }

  private sayDirection(pull: Vec3): string {
    const { chart } = this.charter;
    const figures = chart ? `: ${this.sayFigures(chart, nearestDirection(chart.directions, pull))}` : '';
    return `${sayPull(pull)}${figures}`;
  }

  private subjectName(): string {
    const { of } = this.charter;
    const pieces = this.session.answer?.result.pieces ?? [];
    if (of !== 'mould') return pieces[of]?.id ?? '';
    return pieces.length === 2 ? `${pieces[0].id}, its neighbour opposite` : 'the mould';
  }

  private disc(): PullDisc {
    const { chart } = this.charter;
    return chart ? discOf(chart.directions) : DEFAULT_DISC;
  }

  private floor(): number {
    if (this.quantity === 'depth') return this.session.plan.parting.rubberGiveMm;
    return NEXT_TO_NONE[this.session.prefs.units][this.quantity];
  }

  /** Few bands are spread over all the tones, so that the worst is always the darkest. */
  private tone(i: number): number {
    const last = this.levels.length - 1;
    return last < 1 ? TONE_COUNT : Math.round(1 + ((TONE_COUNT - 1) * i) / last);
  }

  /** The pull that the chart's subject has now: of a piece its own, of a pair the first piece's. */
  private present(): Vec3 | null {
    const { of } = this.charter;
    const pieces = this.session.answer?.result.pieces ?? [];
    if (of === 'mould' && pieces.length > 2) return null;
    return pieces[of === 'mould' ? 0 : of]?.pull ?? null;
  }

  private others() {
    const { of } = this.charter;
    const pieces = this.session.answer?.result.pieces ?? [];
    const own = of === 'mould' ? (pieces.length > 2 ? -1 : 0) : of;
    return pieces.flatMap((piece, index) =>
      index === own || (this.disc().rimDeg === 90 && piece.pull[2] < -0.01)
        ? []
        : [{ pull: piece.pull, index }],
    );
  }

  private clearing(): readonly Vec3[] {
    const { of } = this.charter;
    if (of === 'mould') return NO_PULLS;
    return this.session.answer?.result.pieces[of]?.undercut?.pulls?.clearing ?? NO_PULLS;
  }

  private canSet(): boolean {
    const { of } = this.charter;
    const count = this.session.answer?.result.pieces.length ?? 0;
    return of !== 'mould' || count === 2 || count === 1;
  }

  private editFor(pull: Vec3) {
    const { of } = this.charter;
    const count = this.session.answer?.result.pieces.length ?? 0;
    if (of !== 'mould') return setPiecePull(this.session, of, pull);
    return count === 1 ? setPiecePull(this.session, 0, pull) : setPullPair(this.session, pull);
  }

  private pullUnder(event: MouseEvent): Vec3 | null {
    const box = (event.currentTarget as SVGElement).getBoundingClientRect();
    if (!(box.width > 0)) return null;
    const scale = (2 * HALF_VIEW) / box.width / RADIUS;
    const x = (event.clientX - (box.left + box.width / 2)) * scale;
    const y = (event.clientY - (box.top + box.height / 2)) * scale;
    return Math.hypot(x, y) * RADIUS > HALF_VIEW ? null : roundPull(pullAt(this.disc(), x, y));
  }

  private onClick(event: MouseEvent): void {
    const pull = this.pullUnder(event);
    if (pull) this.setPull(pull, null);
  }

  private onKey(event: KeyboardEvent): void {
    const now = this.present();
    if (!now || event.ctrlKey || event.metaKey || event.altKey) return;
    const step = event.shiftKey ? 1 : KEY_STEP_DEG;
    const moves: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [step, 0],
      ArrowRight: [-step, 0],
      ArrowUp: [0, step],
      ArrowDown: [0, -step],
    };
    const move = moves[event.key];
    if (!move) return;
    event.preventDefault();
    this.setPull(stepPull(this.disc(), now, move[0], move[1]), 'chart-pull');
  }

  private setPull(pull: Vec3, gesture: string | null): void {
    if (!this.canSet()) return;
    const edit = this.editFor(pull);
    if (edit) this.dispatchEvent(new PlanEditEvent(edit, gesture));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}

const NO_PULLS: readonly Vec3[] = [];

function valuesOf(chart: PullChart, quantity: ChartedQuantity): Float32Array {
  if (quantity === 'depth') return chart.depthMm;
  return quantity === 'filler' ? chart.fillerMm3 : chart.areaMm2;
}

function directionOf({ directions }: PullChart, i: number): Vec3 {
  return [directions[3 * i], directions[3 * i + 1], directions[3 * i + 2]];
}

const azimuthOf = ([x, y]: Vec3): number => (Math.round((Math.atan2(y, x) * 180) / Math.PI) + 360) % 360;

/** A border between bands: round figures without their zeros. */
function sayLevel(value: number, quantity: ChartedQuantity, system: UnitSystem): string {
  const text =
    quantity === 'depth'
      ? formatLength(value, system)
      : quantity === 'filler'
        ? formatVolume(value, system)
        : formatArea(value, system);
  return text.replace(/\.0+(?=\s)/, '');
}
