import { html, LitElement, nothing, type PropertyValues, svg } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import { formatLength, formatMass } from '../../core/units.ts';
import type { LinePicture, SectionPicture } from '../../jobs/protocol.ts';
import { isStale, type SessionState } from '../../session/SessionStore.ts';
import type { SectionAxis } from '../../session/ViewPrefs.ts';
import { MouldView } from '../../view/MouldView.ts';
import type { Aspect, SurfaceHit, ViewTheme } from '../../view/viewTypes.ts';
import { boundsOf, type PictureBox } from '../boundsOf.ts';
import { captionOf, type Viewpoint, viewpointOf } from '../captions.ts';
import type { DrafterState } from '../control/LineDrafter.ts';
import { readTheme } from '../control/readTheme.ts';
import { CommandEvent, PrefsEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { fitIcon, minusIcon, plusIcon, redoIcon, saveIcon, undoIcon } from '../icons.ts';
import { pieceSpots } from '../pieceSpots.ts';
import { sayBound } from '../sayAmounts.ts';
import { sayPiece } from '../sayPiece.ts';
import { sectionDistanceMm } from '../sectionPlane.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { depthLabels } from './depthLabels.ts';
import { depthLevels, sayLevel } from './depthLevels.ts';
import { figureStyles } from './figureStyles.ts';
import { fillerSwatch, touchSwatch } from './hatchSwatch.ts';
import { deepestMm } from './lockKinds.ts';
import { lockLegend } from './lockLegend.ts';
import { layOutOverlay, type OverlayLabel, type OverlayPicture, slidApart } from './overlayLayout.ts';
import { spotNotes } from './spotNotes.ts';
import { sayTouch, touchSpan } from './touchSpan.ts';
import '../fields/ChoiceField.ts';

const ASPECTS: readonly { readonly aspect: Aspect; readonly text: string }[] = [
  { aspect: 'front', text: 'Front' },
  { aspect: 'back', text: 'Back' },
  { aspect: 'left', text: 'Left' },
  { aspect: 'right', text: 'Right' },
  { aspect: 'top', text: 'Top' },
];

/** Lengths of the scale bar: rounds of each system, mm. */
const METRIC_BARS_MM = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000];
const US_BARS_MM = [1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 6, 12, 24, 48, 120, 240].map((inches) => inches * 25.4);

/** How a line is drawn, for the legend. */
const STROKE = html`<svg class="stroke" width="26" height="10" aria-hidden="true"><line x1="0" y1="5" x2="26" y2="5"></line></svg>`;

/** How what was found or mended is marked, for the legend. */
const MARK_STROKE = html`<svg class="stroke mark" width="26" height="10" aria-hidden="true"><line x1="0" y1="5" x2="26" y2="5"></line></svg>`;

/** An empty board with the place of the mould dashed over it, for a figure that is not drawn yet. */
const SKETCH = html`<svg class="sketch" viewBox="0 0 260 190" width="260" height="190" aria-hidden="true">
  <path d="M20 138 120 176 242 146 142 112Z"></path>
  <path class="dashed" d="M92 140C78 96 96 92 100 74 104 52 112 22 134 22 158 22 164 50 166 74 168 94 188 100 174 140"></path>
  <ellipse class="dashed" cx="133" cy="142" rx="41" ry="14"></ellipse>
  <path d="M40 22v112M34 22h14M34 134h14"></path>
</svg>`;

/** Where the space bar sets a point; seen only while the figure has the keys. */
const CROSS = html`<svg class="cross" width="40" height="40" viewBox="-20 -20 40 40" aria-hidden="true">
  <path d="M-18 0H-5M5 0H18M0 -18V-5M0 5V18"></path>
</svg>
<p class="keys small">Space sets a point at the cross. Arrows turn, Shift and arrows move the mould.</p>`;

/** A printed picture lies on white paper: the screen's tint would show as a grey box. */
const PRINT_PAPER = '#ffffff';

/** How far one press of an arrow key turns the camera, radians; pans, pixels; zooms, factor. */
const KEY_TURN_RAD = Math.PI / 24;
const KEY_PAN_PX = 40;
const ZOOM_FACTOR = 1.25;

/** From where the face of each cut is seen square on. */
const CUT_ASPECTS: Readonly<Record<SectionAxis, Aspect>> = { across: 'front', along: 'right', level: 'top' };
/** Below this cosine between the eye and the square view of a cut, the view is turned to it. Own choice. */
const LEAST_FACING = 0.35;
/** A number of depth stands where the surface turns at least so much to the eye (cosine). Own choice. */
const LEAST_LABEL_FACING = 0.25;

/** The pointer's doings on the rubber, for the sheet to hand to the drafter. */
export class RubberEvent extends Event {
  static readonly type = 'scute-rubber';
  constructor(
    readonly what:
      | { readonly do: 'add'; readonly hit: SurfaceHit }
      | {
          readonly do: 'move';
          readonly line: number;
          readonly point: number;
          readonly hit: SurfaceHit;
          readonly done: boolean;
        }
      | { readonly do: 'select'; readonly line: number; readonly point: number },
  ) {
    super(RubberEvent.type, { bubbles: true, composed: true });
  }
}

/** The figure in the middle of the sheet: the mould in 3D with the drawing's furniture laid over it. */
@customElement('scute-figure')
export class MouldFigure extends LitElement {
  static override styles = [sharedStyles, figureStyles];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) drafter!: DrafterState;
  @property({ attribute: false }) section: SectionPicture | null = null;
  /** Lines of a suggestion that is looked at: they stand on bare clay in place of the plan's own. Null: none is. */
  @property({ attribute: false }) proposal: readonly LinePicture[] | null = null;
  /** Changes when the page's colours do. */
  @property() themeKey = '';

  @query('.host') private host!: HTMLElement;
  @state() private viewpoint: Viewpoint | null = null;
  @state() private overlay: OverlayPicture | null = null;
  @state() private trouble = '';
  @state() private areUndercutsShown = true;
  /** Pieces that were slid by themselves, by index, mm; the others stand where the slider for all has them. */
  @state() private slidMm: ReadonlyMap<number, number> = new Map();
  private view: MouldView | null = null;
  private wasGivingWay = false;

  override firstUpdated(): void {
    try {
      this.view = new MouldView(this.host, readTheme(document.body), {
        pointAdded: (hit) => this.tell({ do: 'add', hit }),
        pointMoved: (line, point, hit, done) => this.tell({ do: 'move', line, point, hit, done }),
        pointSelected: (line, point) => this.tell({ do: 'select', line, point }),
        framed: () => this.reproject(),
        contextLost: () => {
          this.trouble =
            'The graphics card gave up the picture. The plan is safe; if the picture does not come back by itself, reload the page.';
        },
        contextRestored: () => {
          this.trouble = '';
        },
      });
    } catch {
      this.trouble = 'This browser gives no 3D picture (WebGL 2). The numbers and the sheet still work.';
    }
    this.showAll();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.view?.dispose();
    this.view = null;
  }

  override updated(changed: PropertyValues<this>): void {
    const { view } = this;
    if (!view) return;
    const before = changed.get('session') as SessionState | undefined;
    if (changed.has('themeKey') && changed.get('themeKey') !== undefined) {
      view.setTheme(readTheme(document.body));
    }
    if (changed.has('session') && before) {
      const isOther = (before.prefs.stage === 'scan') !== (this.session.prefs.stage === 'scan');
      const isGivingWay = this.isLineGivingWay();
      if (before.answer !== this.session.answer || isOther || isGivingWay !== this.wasGivingWay) {
        this.showAnswer();
      }
      this.wasGivingWay = isGivingWay;
    }
    if (changed.has('session') || changed.has('areUndercutsShown' as keyof MouldFigure))
      this.showPrefs(before);
    if (changed.has('drafter')) {
      const was = changed.get('drafter') as DrafterState | undefined;
      if (was && (was.mode === 'draw') !== (this.drafter.mode === 'draw')) this.showAnswer();
      this.showDraft();
    }
    if (changed.has('proposal') && changed.get('proposal') !== undefined) {
      this.showAnswer();
      this.showPrefs(undefined);
    }
    if (changed.has('section')) view.setSection(this.section);
    if (changed.has('session') && before && before.prefs !== this.session.prefs) this.reproject();
  }

  /** The picture as it stands, in light colours fit for paper. Null when there is none. */
  async takePicture(): Promise<Blob | null> {
    const { view } = this;
    if (!view || !this.session.answer) return null;
    const present: ViewTheme = readTheme(document.body);
    const paper = readTheme(document.body, 'light');
    view.setTheme({ ...paper, paper: PRINT_PAPER });
    try {
      return await view.snapshot();
    } catch {
      return null;
    } finally {
      view.setTheme(present);
    }
  }

  lookFrom(aspect: Aspect): void {
    this.view?.lookFrom(aspect);
  }

  /** Turns and brings the view to a spot of the rubber, seen as square on as what stands around allows. */
  flyTo(atMm: Vec3): void {
    const pieces = this.session.answer?.result.pieces ?? [];
    const piece = pieces.findIndex((one) =>
      one.undercut?.spots.some((spot) => spot.atMm.every((x, k) => x === atMm[k])),
    );
    this.view?.showSpot(atMm, undefined, piece < 0 ? undefined : piece);
  }

  /** Slides all pieces so far along their pulls, mm: sets the page's own slider. */
  setApart(mm: number): void {
    const reach = this.reachMm();
    if (reach > 0) this.prefer({ apart: Math.min(1, Math.max(0, mm / reach)) });
  }

  /** Slides one piece (by its index) so far along its pull, mm, and leaves the others; the slider for all takes it back in. */
  setApartOf(piece: number, mm: number): void {
    this.slidMm = new Map(this.slidMm).set(piece, mm);
    if (this.drafter.mode === 'look') this.view?.setApartOf(piece, mm);
    this.reproject();
  }

  /** How far a piece is slid now, mm. */
  apartOf(piece: number): number {
    return this.slidMm.get(piece) ?? this.session.prefs.apart * this.reachMm();
  }

  private caption() {
    const { stage, isSectionOn, isShellShown } = this.session.prefs;
    const body = isSectionOn ? 'cut' : isShellShown && this.drafter.mode === 'look' ? 'shell' : 'rubber';
    return captionOf(stage, this.viewpoint, body);
  }

  private showAll(): void {
    this.showAnswer();
    this.showPrefs(undefined);
    this.showDraft();
    this.view?.setSection(this.section);
  }

  private showAnswer(): void {
    const { answer } = this.session;
    if (answer) {
      // The scan itself, in clay: its pieces are the next stage's matter.
      const isBare = this.session.prefs.stage === 'scan' || this.proposal !== null || this.isLineGivingWay();
      const { geometry } = answer;
      this.view?.setAnswer({
        ...geometry,
        pieces: isBare ? [] : geometry.pieces,
        lines: this.proposal ?? (isBare ? [] : geometry.lines),
      });
      // An answer ends the view's draft; a line still being drawn goes on over it.
      this.view?.setDraft(this.drafter.picture);
    } else {
      this.view?.clear();
      this.overlay = null;
      this.viewpoint = null;
    }
    this.reproject();
  }

  private showPrefs(before: SessionState | undefined): void {
    const { prefs, answer } = this.session;
    const was = before?.prefs;
    if (was === prefs && before?.answer === answer) return;
    const isDrawing = this.drafter.mode !== 'look';
    const isFirstPicture = before?.answer === null && answer !== null;
    const isOtherCut = was !== undefined && (!was.isSectionOn || was.sectionAxis !== prefs.sectionAxis);
    if (prefs.isSectionOn && (isOtherCut || isFirstPicture) && !this.isCutFaceSeen())
      this.lookFrom(CUT_ASPECTS[prefs.sectionAxis]);
    if (was && was.apart !== prefs.apart) this.slidMm = new Map();
    const rubber = answer?.geometry.rubber;
    if (rubber) this.slide(this.apartMm(boundsOf(rubber)));
    const hasShell = answer?.geometry.pieces.some((p) => p.shell !== null) ?? false;
    this.view?.setShow({
      rubber: true,
      shells: !isDrawing && hasShell && (prefs.isShellShown || prefs.isSectionOn),
      lines: prefs.stage !== 'scan',
      marks: prefs.stage === 'scan',
      undercuts: this.hasUndercuts() && this.areUndercutsShown,
    });
    this.view?.setLockLook({ giveMm: this.session.plan.parting.rubberGiveMm, levelsMm: this.levelsMm() });
  }

  /** Moves only what is not there yet: each move frames the mould anew. */
  private slide(allMm: number): void {
    const pieces = this.session.answer?.geometry.pieces ?? [];
    const own = this.drafter.mode === 'look' ? this.slidMm : new Map<number, number>();
    const key = JSON.stringify([allMm, [...own], pieces.length]);
    if (key === this.slidKey) return;
    this.slidKey = key;
    this.view?.setApart(allMm);
    for (const [piece, mm] of own) this.view?.setApartOf(piece, mm);
  }
  private slidKey = '';

  /** What locks is the matter of stage 2; while a line is drawn in place of another it would speak of the old one. */
  private hasUndercuts(): boolean {
    const { answer, prefs } = this.session;
    if (prefs.stage !== 'parting' || this.proposal !== null || this.isLineGivingWay()) return false;
    return answer?.geometry.pieces.some((piece) => piece.undercut !== null) ?? false;
  }

  /** Depths at which lines run, mm. */
  private levelsMm(): readonly number[] {
    const { answer, prefs } = this.session;
    const told = answer?.result.pieces.map(({ undercut }) => undercut?.maxDepthMm ?? 0) ?? [];
    // The picture's depths are a map's; the figures are exact, so no line is promised beyond them.
    const deepest = Math.max(0, ...told) || deepestMm(answer?.geometry.pieces ?? []);
    return depthLevels(deepest, prefs.units);
  }

  /** The mould's width, which the slider for all slides the pieces apart at most, mm. */
  private reachMm(): number {
    const rubber = this.session.answer?.geometry.rubber;
    if (!rubber) return 0;
    const { min, max } = boundsOf(rubber);
    return Math.max(max[0] - min[0], max[1] - min[1]);
  }

  /** True when every piece stands where it belongs. */
  private isClosed(): boolean {
    return this.session.prefs.apart === 0 && [...this.slidMm.values()].every((mm) => mm === 0);
  }

  /**
   * While a line is drawn in its place, the suggested one is out of the way with its pieces: its points would catch the
   * clicks, and its tints would speak of a parting that is about to go.
   */
  private isLineGivingWay(): boolean {
    const { answer, plan } = this.session;
    const { lines } = plan.parting;
    if (lines === 'auto') return this.drafter.mode === 'draw' && this.drafter.splitting === null;
    // The line was taken and its answer is on the way: what is shown still parts along the suggested one.
    return answer?.geometry.lines.every((shown) => !lines.some((line) => line.id === shown.id)) ?? false;
  }

  /** True when the face of the cut turns toward the eye, and not so slantwise that its coats cannot be told apart. */
  private isCutFaceSeen(): boolean {
    const { viewpoint } = this;
    if (!viewpoint) return true;
    const { azimuthDeg, downShare } = viewpoint;
    const axis = this.session.prefs.sectionAxis;
    if (axis === 'level') return downShare > LEAST_FACING;
    const faceDeg = axis === 'across' ? 270 : 0;
    const level = Math.sqrt(1 - downShare * downShare);
    return level * Math.cos(((azimuthDeg - faceDeg) * Math.PI) / 180) > LEAST_FACING;
  }

  /** How far each piece is slid along its pull, mm; lines are drawn on the closed mould only. */
  private apartMm(box: PictureBox): number {
    if (this.drafter.mode !== 'look') return 0;
    return this.session.prefs.apart * Math.max(box.max[0] - box.min[0], box.max[1] - box.min[1]);
  }

  private showDraft(): void {
    const { mode, picture, selected } = this.drafter;
    this.view?.setMode(mode === 'look' ? 'look' : 'draw');
    this.view?.setDraft(picture);
    this.view?.setShow({
      highlightLine: selected?.line ?? undefined,
      highlightPoint: selected?.point ?? undefined,
    });
    this.showPrefs(undefined);
  }

  private reproject(): void {
    const { view } = this;
    const rubber = this.session.answer?.geometry.rubber;
    if (!view || !rubber) return;
    const { answer, prefs } = this.session;
    const box = boundsOf(rubber);
    const middle = [(box.min[0] + box.max[0]) / 2, (box.min[1] + box.max[1]) / 2] as const;
    this.viewpoint = viewpointOf(
      view.project([middle[0], middle[1], 0]),
      view.project([middle[0] + 1, middle[1], 0]),
      view.project([middle[0], middle[1] + 1, 0]),
    );
    const apartMm = this.apartMm(box);
    const isOfPieces =
      prefs.stage !== 'scan' &&
      this.drafter.mode === 'look' &&
      this.proposal === null &&
      !this.isLineGivingWay();
    // Slid apart, the pieces show their pulls themselves; arrows would lie across them.
    const isClosed = this.isClosed();
    const areLocks = isClosed && !prefs.isSectionOn && this.areLocksInSight();
    const pieces = isOfPieces && isClosed && !prefs.isSectionOn ? (answer?.geometry.pieces ?? []) : [];
    this.overlay = layOutOverlay({
      widthPx: this.host.clientWidth,
      heightPx: this.host.clientHeight,
      box: slidApart(
        box,
        Math.max(apartMm, ...this.slidMm.values()),
        answer?.result.pieces.map((p) => p.pull) ?? [],
      ),
      mmPerPixel: view.mmPerPixel(),
      project: (point) => view.project(point),
      sayLength: (mm) => formatLength(mm, prefs.units),
      notes: areLocks ? spotNotes(answer?.result.pieces ?? [], prefs.units) : [],
      labels: areLocks ? this.depthLabels() : [],
      points: (answer?.geometry.lines ?? []).flatMap(({ controlPoints: p }) =>
        Array.from({ length: p.length / 3 }, (_, i): Vec3 => [p[3 * i], p[3 * i + 1], p[3 * i + 2]]),
      ),
      barLengthsMm: prefs.units === 'us' ? US_BARS_MM : METRIC_BARS_MM,
      pieces: pieces.flatMap((picture, i) => {
        const piece = answer?.result.pieces[i];
        if (!piece) return [];
        return [
          {
            name: sayPiece(piece),
            pull: piece.pull,
            spots: pieceSpots(picture),
            lines: [
              `${sayPiece(piece)}, ${formatMass(piece.massG, prefs.units)}`,
              sayBound(piece.massErrorG, piece.massG, 'mass', prefs.units),
            ] as const,
          },
        ];
      }),
    });
  }

  /** True when hatching is seen: shells over the rubber hide it. */
  private areLocksInSight(): boolean {
    return this.canLocksBeSeen() && this.areUndercutsShown;
  }

  /** Closed shells lie over all that locks. */
  private canLocksBeSeen(): boolean {
    const areCovered = this.session.prefs.isShellShown && this.drafter.mode === 'look' && this.isClosed();
    return this.hasUndercuts() && !areCovered;
  }

  private depthLabels(): readonly OverlayLabel[] {
    const levels = this.levelsMm();
    const labels = (this.session.answer?.geometry.pieces ?? []).flatMap(({ rubber, undercut }) =>
      undercut ? depthLabels(rubber, undercut, levels) : [],
    );
    // The deepest first: they are the ones that matter where there is not room for all.
    return [...labels]
      .filter(({ normal }) => (this.view?.facing(normal) ?? 0) > LEAST_LABEL_FACING)
      .sort((a, b) => b.levelMm - a.levelMm)
      .map(({ levelMm, at }) => ({ at, text: sayLevel(levelMm, this.session.prefs.units) }));
  }

  override render() {
    const { answer, prefs, canUndo, canRedo } = this.session;
    const { number, text } = this.caption();
    const isDrawing = this.drafter.mode !== 'look';
    return html`
      <figure>
        <div class="head">
          <figcaption><b>${number}</b> ${text}</figcaption>
          <div class="tools">
            <button
              class="quiet"
              title="Undo (Ctrl Z)"
              aria-label="Undo"
              ?disabled=${!canUndo && !(isDrawing && this.drafter.points.length > 0)}
              @click=${() => this.ask({ do: 'undo' })}
            >
              ${undoIcon}
            </button>
            <button
              class="quiet"
              title="Redo (Ctrl Shift Z)"
              aria-label="Redo"
              ?disabled=${!canRedo}
              @click=${() => this.ask({ do: 'redo' })}
            >
              ${redoIcon}
            </button>
          </div>
        </div>
        <div class="stage" data-mode=${this.drafter.mode}>
          <div
            class="host"
            tabindex="0"
            role="application"
            aria-label="The mould in 3D. Arrow keys turn it, with Shift they move it; plus and minus zoom; 1 to 5 are the five views; F fits it.${
              this.drafter.mode === 'look' ? '' : ' Space sets a point at the cross in the middle.'
            }"
            @keydown=${this.onKey}
          ></div>
          ${this.drafter.mode === 'look' ? nothing : CROSS}
          ${answer ? this.renderOverlay() : this.renderEmpty()}
          ${this.trouble ? html`<p class="trouble">${this.trouble}</p>` : nothing}
          <div class="zoom">
            <button aria-label="Nearer" title="Nearer (+)" @click=${() => this.view?.zoomBy(ZOOM_FACTOR)}>
              ${plusIcon}
            </button>
            <button aria-label="Farther" title="Farther (\u2212)" @click=${() => this.view?.zoomBy(1 / ZOOM_FACTOR)}>
              ${minusIcon}
            </button>
            <button aria-label="Fit the mould" title="Fit (F)" @click=${() => this.view?.fit()}>${fitIcon}</button>
            <button
              aria-label="Save the picture"
              title="Save the picture"
              @click=${() => this.ask({ do: 'save-picture' })}
            >
              ${saveIcon}
            </button>
          </div>
        </div>
        ${answer ? this.renderTouch() : nothing}
        ${answer ? html`<div class="key">${this.renderSwitch()} ${this.renderLegend()}</div>` : nothing}
        <div class="foot">
          <div class="views" role="group" aria-label="Views">
            ${ASPECTS.map(
              ({ aspect, text: name }, i) =>
                html`<button title="${name} (${i + 1})" @click=${() => this.lookFrom(aspect)}>
                  ${name}<kbd>${i + 1}</kbd>
                </button>`,
            )}
          </div>
          <div class="slide">
            <label for="apart">Apart</label>
            <input
              id="apart"
              type="range"
              min="0"
              max="1"
              step="0.01"
              .value=${String(prefs.apart)}
              ?disabled=${isDrawing}
              @input=${(e: Event) => this.prefer({ apart: Number((e.target as HTMLInputElement).value) })}
            />
          </div>
          <label class="check">
            <input
              type="checkbox"
              .checked=${prefs.isShellShown}
              ?disabled=${isDrawing}
              @change=${(e: Event) => this.prefer({ isShellShown: (e.target as HTMLInputElement).checked })}
            />
            Shell on
          </label>
          <label class="check">
            <input
              type="checkbox"
              .checked=${prefs.isSectionOn}
              @change=${(e: Event) => this.prefer({ isSectionOn: (e.target as HTMLInputElement).checked })}
            />
            Cut open
          </label>
          ${prefs.isSectionOn ? this.renderSection() : nothing}
        </div>
      </figure>
    `;
  }

  private renderSection() {
    const { prefs, answer } = this.session;
    const rubber = answer?.geometry.rubber;
    const from = { across: 'from the front', along: 'from the left', level: 'above the board' };
    const distance = rubber
      ? `${formatLength(sectionDistanceMm(prefs.sectionAxis, prefs.sectionAt, boundsOf(rubber)), prefs.units)} ${from[prefs.sectionAxis]}`
      : '';
    return html`
      <div class="cut">
        <scute-choice
          bare
          label="Plane of the cut"
          .options=${[
            { value: 'across', text: 'across' },
            { value: 'along', text: 'along' },
            { value: 'level', text: 'level' },
          ]}
          .value=${prefs.sectionAxis}
          @value=${(e: ValueEvent<string>) => this.prefer({ sectionAxis: e.value as SectionAxis })}
        ></scute-choice>
        <input
          type="range"
          min="0"
          max="1"
          step="0.005"
          aria-label="Place of the cut"
          aria-valuetext=${distance}
          .value=${String(prefs.sectionAt)}
          @input=${(e: Event) => this.prefer({ sectionAt: Number((e.target as HTMLInputElement).value) })}
        />
        <output class="small">${distance}</output>
      </div>
    `;
  }

  private renderEmpty() {
    const { scan, job, failure } = this.session;
    if (job) {
      return html`<div class="empty soft">
        ${SKETCH}
        <p>${scan ? scan.name : 'The scan'} is being put on its board.</p>
      </div>`;
    }
    if (scan && failure) {
      return html`<div class="empty">
        ${SKETCH}
        <p>${failure.code === 'stopped' ? 'Stopped before the first answer.' : failure.message}</p>
        <button class="primary" @click=${() => this.ask({ do: 'plan-again' })}>Work it out again</button>
      </div>`;
    }
    if (scan) return nothing;
    return html`<div class="empty">
      ${SKETCH}
      <p>Drop a scan of the rubber here: STL or PLY.</p>
      <button class="primary" @click=${() => this.ask({ do: 'pick-file' })}>Open a scan</button>
    </div>`;
  }

  /** Where each piece touches the rubber on its way, while any is slid. */
  private renderTouch() {
    const { answer, prefs } = this.session;
    if (this.drafter.mode !== 'look' || this.isClosed() || this.isLineGivingWay() || prefs.stage === 'scan')
      return nothing;
    const lines = (answer?.geometry.pieces ?? []).flatMap(({ touch }, i) => {
      const piece = answer?.result.pieces[i];
      if (!touch || !piece) return [];
      const span = touchSpan(touch);
      const isInside = span !== null && this.apartOf(i) > span.firstMm && this.apartOf(i) < span.lastMm;
      const text = sayTouch(sayPiece(piece), span, (mm) => formatLength(mm, prefs.units));
      return [html`<li class=${isInside ? 'inside' : ''}>${text}</li>`];
    });
    return lines.length > 0 ? html`<ul class="touch" aria-label="What touches">${lines}</ul>` : nothing;
  }

  private renderSwitch() {
    if (!this.canLocksBeSeen()) return nothing;
    return html`<label class="check">
      <input
        type="checkbox"
        .checked=${this.areUndercutsShown}
        @change=${(e: Event) => {
          this.areUndercutsShown = (e.target as HTMLInputElement).checked;
        }}
      />
      Undercuts
    </label>`;
  }

  private renderLegend() {
    const { answer, plan, prefs } = this.session;
    if (prefs.isSectionOn) {
      return html`<ul class="legend">
        <li><span class="swatch rubber"></span> rubber</li>
        ${plan.coats.map(
          (coat, i) => html`<li>
            <span class="swatch coat-${i % 6}"></span> ${coat.name} ${formatLength(coat.thicknessMm, prefs.units)}
          </li>`,
        )}
      </ul>`;
    }
    if (prefs.stage === 'scan') {
      if (!answer || answer.geometry.marks.length === 0) return nothing;
      return html`<ul class="legend">
        <li>${MARK_STROKE} found or mended here</li>
      </ul>`;
    }
    if (this.proposal !== null) return html`<ul class="legend"><li>${STROKE} suggested line</li></ul>`;
    if (this.isLineGivingWay()) return html`<ul class="legend"><li>${STROKE} your line</li></ul>`;
    return html`<ul class="legend">
      ${answer?.result.pieces.map(
        (piece, i) => html`<li><span class="swatch piece-${i % 6}"></span> ${sayPiece(piece)}</li>`,
      )}
      ${
        prefs.isShellShown && this.drafter.mode === 'look'
          ? html`<li><span class="swatch rubber whole"></span> rubber</li>`
          : nothing
      }
      ${answer && answer.geometry.lines.length > 0 ? html`<li>${STROKE} parting line</li>` : nothing}
      ${answer?.geometry.filler ? html`<li>${fillerSwatch} filler</li>` : nothing}
      ${this.isTouchSeen() ? html`<li>${touchSwatch} inside the rubber</li>` : nothing}
      ${
        this.areLocksInSight()
          ? lockLegend(answer?.geometry.pieces ?? [], this.levelsMm(), plan.parting.rubberGiveMm, prefs.units)
          : nothing
      }
    </ul>`;
  }

  /** True when some piece's shell is slid to where it is inside the rubber, and shells are shown. */
  private isTouchSeen(): boolean {
    const { answer, prefs } = this.session;
    if (!prefs.isShellShown || this.drafter.mode !== 'look' || !answer) return false;
    return answer.geometry.pieces.some(({ touch }, i) => {
      const span = touch ? touchSpan(touch) : null;
      return span !== null && this.apartOf(i) > span.firstMm && this.apartOf(i) < span.lastMm;
    });
  }

  private renderOverlay() {
    const { overlay } = this;
    if (!overlay) return nothing;
    const { height, notes, pulls, labels, bar } = overlay;
    return html`<svg class="overlay ${isStale(this.session) ? 'stale' : ''}" aria-hidden="true">
      <defs>
        <marker id="tip" viewBox="0 0 12 12" refX="11" refY="6" markerWidth="11" markerHeight="11" orient="auto-start-reverse">
          <path d="M1 2 11 6 1 10" class="tip"></path>
        </marker>
      </defs>
      ${
        height
          ? svg`
            <path class="thin" d=${`M${height.x - 7} ${height.top.y}H${Math.max(height.x + 8, height.top.x - 6)}`}></path>
            <path class="thin" d=${`M${height.x - 7} ${height.bottom.y}H${height.x + 22}`}></path>
            <path class="thin" marker-start="url(#tip)" marker-end="url(#tip)" d=${`M${height.x} ${height.top.y}V${height.bottom.y}`}></path>
            <text class="dimension" transform=${`translate(${height.x - 8} ${(height.top.y + height.bottom.y) / 2}) rotate(-90)`}>${height.text}</text>`
          : nothing
      }
      ${labels.map((label) => svg`<text class="level" x=${label.x} y=${label.y + 4}>${label.text}</text>`)}
      ${notes.map(
        (note) => svg`
          <path class="thin" d=${`M${note.at.x + (note.side === 'left' ? 6 : -6)} ${note.at.y + 2}L${note.spot.x} ${note.spot.y}`}></path>
          <circle class="spot" cx=${note.spot.x} cy=${note.spot.y} r="3"></circle>
          <text class=${`note ${note.side}`} x=${note.at.x} y=${note.at.y}>${note.lines[0]}</text>
          <text class=${`note bound ${note.side}`} x=${note.at.x} y=${note.at.y + 18}>${note.lines[1]}</text>`,
      )}
      ${pulls.map((pull) =>
        pull.kind === 'arrow'
          ? svg`
            <path class="pull" marker-end="url(#tip)" d=${`M${pull.from.x} ${pull.from.y}L${pull.to.x} ${pull.to.y}`}></path>
            <text class="pulls" x=${(pull.from.x + pull.to.x) / 2} y=${Math.max(pull.from.y, pull.to.y) + 20}>${pull.text}</text>`
          : svg`
            <circle class="pull" cx=${pull.to.x} cy=${pull.to.y} r="8"></circle>
            ${
              pull.kind === 'toward'
                ? svg`<circle class="spot" cx=${pull.to.x} cy=${pull.to.y} r="2.5"></circle>`
                : svg`<path class="pull" d=${`M${pull.to.x - 5} ${pull.to.y - 5}l10 10m0 -10l-10 10`}></path>`
            }
            <text class="pulls" x=${pull.to.x} y=${pull.to.y + 25}>${pull.text}</text>`,
      )}
      ${this.clearSpots().map(
        (spot) => svg`
          <circle class="clear" cx=${spot.x} cy=${spot.y} r=${spot.radiusPx}></circle>
          <text class="clear" x=${spot.x} y=${spot.y + 5}>${spot.name}</text>`,
      )}
      ${
        bar
          ? svg`
            <path class="thin" d=${`M${bar.x} ${bar.y - 5}v5h${bar.lengthPx}v-5`}></path>
            <text class="bar" x=${bar.x + bar.lengthPx + 8} y=${bar.y}>${bar.text}</text>`
          : nothing
      }
    </svg>`;
  }

  /** Areas kept clear, or that suggested lines avoid, that face the eye, with their size on the screen. */
  private clearSpots() {
    const { view } = this;
    const { plan, prefs } = this.session;
    const areas =
      prefs.stage === 'scan' ? plan.scan.keepClear : prefs.stage === 'parting' ? plan.parting.notHere : [];
    // A mark made in one plan stands for the next too, but the scan under it may be another while that is worked out.
    if (!view || (prefs.stage === 'scan' && isStale(this.session))) return [];
    const mmPerPixel = view.mmPerPixel();
    return areas.flatMap(({ name, dabsMm, radiusMm }) => {
      const { x, y, visible } = view.project(dabsMm[0]);
      return visible && mmPerPixel > 0 ? [{ name, x, y, radiusPx: radiusMm / mmPerPixel }] : [];
    });
  }

  private onKey(event: KeyboardEvent): void {
    const { view } = this;
    if (!view || event.ctrlKey || event.metaKey || event.altKey) return;
    const step = (dx: number, dy: number) => {
      if (event.shiftKey) view.panBy(dx * KEY_PAN_PX, dy * KEY_PAN_PX);
      else view.orbitBy(dx * KEY_TURN_RAD, dy * KEY_TURN_RAD);
    };
    switch (event.key) {
      case 'ArrowLeft':
        step(-1, 0);
        break;
      case 'ArrowRight':
        step(1, 0);
        break;
      case 'ArrowUp':
        step(0, -1);
        break;
      case 'ArrowDown':
        step(0, 1);
        break;
      case '+':
      case '=':
        view.zoomBy(ZOOM_FACTOR);
        break;
      case '-':
        view.zoomBy(1 / ZOOM_FACTOR);
        break;
      case ' ':
        if (this.drafter.mode === 'look') return;
        view.tapMiddle();
        break;
      case 'm':
      case 'M': {
        const { selected, mode } = this.drafter;
        if (mode !== 'edit' || selected === null || selected.point === null) return;
        view.movePointToMiddle(selected.line, selected.point);
        break;
      }
      case 'f':
      case 'F':
        view.fit();
        break;
      default:
        return;
    }
    event.preventDefault();
  }

  private tell(what: RubberEvent['what']): void {
    this.dispatchEvent(new RubberEvent(what));
  }

  private prefer(change: PrefsEvent['change']): void {
    this.dispatchEvent(new PrefsEvent(change));
  }

  private ask(command: CommandEvent['command']): void {
    this.dispatchEvent(new CommandEvent(command));
  }
}
