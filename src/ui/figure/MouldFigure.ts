import { html, LitElement, nothing, type PropertyValues } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Vec3 } from '../../core/mesh/TriMesh.ts';
import { formatLength, formatMass } from '../../core/units.ts';
import type { LinePicture, SectionPicture } from '../../jobs/protocol.ts';
import { isStale, type SessionState } from '../../session/SessionStore.ts';
import type { SectionAxis } from '../../session/ViewPrefs.ts';
import { MouldView } from '../../view/MouldView.ts';
import type { Aspect, ViewTheme } from '../../view/viewTypes.ts';
import { announce } from '../announce.ts';
import { captionOf, type Viewpoint, viewpointOf } from '../captions.ts';
import type { DrafterState } from '../control/LineDrafter.ts';
import type { MapState } from '../control/MapDrawer.ts';
import type { PainterState } from '../control/Painter.ts';
import { readPrintInks } from '../control/readPrintInks.ts';
import { readTheme } from '../control/readTheme.ts';
import type { StanderState } from '../control/Stander.ts';
import { CommandEvent, PrefsEvent } from '../events.ts';
import type { ValueEvent } from '../fields/ValueEvent.ts';
import { pieceSpots } from '../pieceSpots.ts';
import { sayBound } from '../sayAmounts.ts';
import { sayBothLengths } from '../sayLengths.ts';
import { sayPiece } from '../sayPiece.ts';
import { sharedStyles } from '../sharedStyles.ts';
import { clearSpots } from './clearSpots.ts';
import { composePicture, type PictureParts } from './composePicture.ts';
import { depthLabels } from './depthLabels.ts';
import { sayLevel } from './depthLevels.ts';
import type { FigureLookEvent } from './FigureLookEvent.ts';
import { FigureSight } from './FigureSight.ts';
import { figureStyles } from './figureStyles.ts';
import { keyHelp } from './keyHelp.ts';
import { type AidsPicture, layOutAids } from './layOutAids.ts';
import { legendItems } from './legend/legendItems.ts';
import { mapScale } from './legend/mapScale.ts';
import { MapHand } from './maps/MapHand.ts';
import { mapTitle } from './maps/mapWords.ts';
import { layOutOverlay, type OverlayLabel, type OverlayPicture, slidApart } from './overlayLayout.ts';
import { overlayShapes } from './overlayShapes.ts';
import { PlaceFinder } from './PlaceFinder.ts';
import { probeShapes } from './probeShapes.ts';
import { type ProbeSpot, probeSpots } from './probeSpots.ts';
import { RubberEvent } from './RubberEvent.ts';
import { readingShapes } from './readingShapes.ts';
import { StandHand } from './StandHand.ts';
import { sayHandle } from './sayHandle.ts';
import { chooseScaleFigure } from './scaleFigures.ts';
import type { RulerEvent } from './section/RulerEvent.ts';
import { SectionHand } from './section/SectionHand.ts';
import type { SketchShape } from './sketch/Sketch.ts';
import { spotNotes } from './spotNotes.ts';
import { handleOf } from './standTool.ts';
import { stepPoint } from './stepPoint.ts';
import { thinNotes } from './thinNotes.ts';
import { turnByKey, ZOOM_FACTOR } from './turnByKey.ts';
import './FigureAids.ts';
import './FigureEmpty.ts';
import './FigureFoot.ts';
import './FigureHead.ts';
import './FigureLegend.ts';
import './FigureOverlay.ts';
import './FigureProbes.ts';
import './FigureTools.ts';
import './FigureTouch.ts';
import './section/SectionRuler.ts';

/** Lengths of the scale bar: rounds of each system, mm. */
const METRIC_BARS_MM = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000];
const US_BARS_MM = [1 / 8, 1 / 4, 1 / 2, 1, 2, 4, 6, 12, 24, 48, 120, 240].map((inches) => inches * 25.4);

/** Where keys set points and read; seen only while the figure has them and something is done there. */
const cross = (
  help: string,
) => html`<svg class="cross" width="40" height="40" viewBox="-20 -20 40 40" aria-hidden="true">
  <path d="M-18 0H-5M5 0H18M0 -18V-5M0 5V18"></path>
</svg>
<p class="keys small">${help} Arrows turn, Shift and arrows move the mould.</p>`;

/** A printed picture lies on white paper: the screen's tint would show as a grey box. */
const PRINT_PAPER = '#ffffff';

/** From where the face of each cut is seen square on. */
const CUT_ASPECTS: Readonly<Record<SectionAxis, Aspect>> = { across: 'front', along: 'right', level: 'top' };
/** Below this cosine between the eye and the square view of a cut, the view is turned to it. Own choice. */
const LEAST_FACING = 0.35;
/** A number of depth stands where the surface turns at least so much to the eye (cosine). Own choice. */
const LEAST_LABEL_FACING = 0.25;

const NO_MAP: MapState = { picture: null, fraction: null, problem: null };
/** A picture at least so wide has room for a length in both systems, px. */
const ROOMY_PX = 560;
/** What is read is said when the mould has stood still so long. Own choice. */
const SAY_AFTER_MS = 500;

/** What was read in the picture, and where, CSS pixels. */
interface Reading {
  readonly x: number;
  readonly y: number;
  readonly isTouch: boolean;
  readonly text: string;
}

/** The figure in the middle of the sheet: the mould in 3D with the drawing's furniture laid over it. */
@customElement('scute-figure')
export class MouldFigure extends LitElement {
  static override styles = [sharedStyles, figureStyles];

  @property({ attribute: false }) session!: SessionState;
  @property({ attribute: false }) drafter!: DrafterState;
  @property({ attribute: false }) painter!: PainterState;
  @property({ attribute: false }) stander!: StanderState;
  @property({ attribute: false }) section: SectionPicture | null = null;
  @property({ attribute: false }) maps: MapState = NO_MAP;
  /** Lines of a suggestion that is looked at: they stand on bare clay in place of the plan's own. Null: none is. */
  @property({ attribute: false }) proposal: readonly LinePicture[] | null = null;
  /** Changes when the page's colours do. */
  @property() themeKey = '';

  @query('.host') private host!: HTMLElement;
  @state() private viewpoint: Viewpoint | null = null;
  @state() private isRulerOn = false;
  @state() private reading: Reading | null = null;
  @state() private overlay: OverlayPicture | null = null;
  @state() private aids: AidsPicture | null = null;
  @state() private probes: readonly ProbeSpot[] = [];
  @state() private trouble = '';
  @state() private areUndercutsShown = true;
  /** Pieces that were slid by themselves, by index, mm; the others stand where the slider for all has them. */
  @state() private slidMm: ReadonlyMap<number, number> = new Map();
  private view: MouldView | null = null;
  private wasBare = false;
  /** Where the pointer rests on the rubber while points are set. */
  private hovered: Vec3 | null = null;
  private readonly finder = new PlaceFinder(() => this.reproject());
  private readonly mapHand = new MapHand(this.finder);
  private readonly sectionHand = new SectionHand();
  private readTimer: ReturnType<typeof setTimeout> | undefined;
  private readonly standHand = new StandHand(
    () => this.stander,
    (command) => this.dispatchEvent(new CommandEvent(command)),
  );

  override firstUpdated(): void {
    try {
      this.view = new MouldView(this.host, readTheme(document.body), {
        pointAdded: (hit) => this.tell({ do: 'add', hit }),
        pointMoved: (line, point, hit, done) => this.tell({ do: 'move', line, point, hit, done }),
        pointSelected: (line, point) => this.tell({ do: 'select', line, point }),
        hovered: (hit) => {
          this.hovered = hit?.point ?? null;
          if (this.drafter.mode === 'measure') this.layAids();
        },
        pointed: (place) => this.point(place),
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
      const { isBare } = this.sight;
      if (before.answer !== this.session.answer || isBare !== this.wasBare) this.showAnswer();
      this.wasBare = isBare;
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
    this.showMap(changed);
    if (changed.has('painter') || changed.has('session'))
      this.showPaint(changed.get('painter') as PainterState | undefined);
    if (changed.has('stander') || changed.has('session')) {
      const { answer, prefs } = this.session;
      this.standHand.show(view, answer?.geometry.rubber ?? null, prefs.units, this.painter.does !== null);
    }
    if (changed.has('stander') || changed.has('drafter')) this.layAids();
    if (changed.has('session') && before && before.prefs !== this.session.prefs) this.reproject();
  }

  /** The picture as it stands, in light colours fit for paper. Null when there is none. */
  async takePicture(): Promise<Blob | null> {
    const { view } = this;
    if (!view || !this.session.answer) return null;
    const present: ViewTheme = readTheme(document.body);
    const paper = readTheme(document.body, 'light');
    const inks = readPrintInks(document.body);
    view.setTheme({ ...paper, paper: PRINT_PAPER });
    const drawn = view.snapshot();
    view.setTheme(present);
    try {
      const mould = await createImageBitmap(await drawn);
      return await composePicture({ ...this.pictureParts(), mould }, inks);
    } catch {
      return null;
    } finally {
      inks.dispose();
    }
  }

  /** What a saved picture is called beside its job: "fig-3-thickness". */
  get pictureName(): string {
    const { number } = this.caption();
    const { isSectionOn } = this.session.prefs;
    const what = isSectionOn ? 'cut' : (this.mapHand.model?.picture.of ?? null);
    return [number.toLowerCase().replace(/[^a-z0-9]+/g, '-'), what].filter(Boolean).join('-');
  }

  /** All that a saved picture says besides the mould: what stands round it on the screen. */
  private pictureParts(): Omit<PictureParts, 'mould'> {
    const { plan, prefs } = this.session;
    const { number, text } = this.caption();
    const { model } = this.mapHand;
    const coat = model?.picture.coat ?? null;
    return {
      widthPx: this.host.clientWidth,
      heightPx: this.host.clientHeight,
      shapes: [...this.drawnShapes(), ...probeShapes(this.probes)],
      caption: `${number}  ${text}`,
      scale: model && {
        title: mapTitle(
          model.picture.of,
          coat === null ? null : (plan.coats[coat]?.name ?? null),
          prefs.units,
        ),
        sketch: model.bands.borders.length > 0 ? mapScale(model, prefs.units) : null,
      },
      items: legendItems(this.session, this.sight, this.proposal !== null, model),
      foot: [plan.job.name, plan.job.shop, isStale(this.session) ? 'of the plan before the last change' : '']
        .filter(Boolean)
        .join(', '),
    };
  }

  /** The view as it stands, without legend or words, as a small PNG. Null when nothing is drawn. */
  async takeView(widthPx: number): Promise<Blob | null> {
    if (!this.view || !this.session.answer) return null;
    return this.view.snapshot(widthPx).catch(() => null);
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
    const reach = this.sight.reachMm;
    if (reach > 0) this.prefer({ apart: Math.min(1, Math.max(0, mm / reach)) });
  }

  /** Slides one piece (by its index) so far along its pull, mm, and leaves the others; the slider for all takes it back in. */
  setApartOf(piece: number, mm: number): void {
    this.slidMm = new Map(this.slidMm).set(piece, mm);
    if (this.drafter.mode === 'look') this.view?.setApartOf(piece, mm);
    this.reproject();
  }

  private get sight(): FigureSight {
    return new FigureSight({
      session: this.session,
      drafter: this.drafter,
      hasProposal: this.proposal !== null,
      slidMm: this.slidMm,
      areUndercutsShown: this.areUndercutsShown,
    });
  }

  private caption() {
    const { stage, isSectionOn, isShellShown } = this.session.prefs;
    const body = isSectionOn ? 'cut' : isShellShown && this.drafter.mode === 'look' ? 'shell' : 'rubber';
    return captionOf(stage, this.viewpoint, body, this.mapHand.model?.picture.of ?? null);
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
      const { isBare } = this.sight;
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
    if (rubber) this.slide(this.sight.apartMm);
    const hasShell = answer?.geometry.pieces.some((p) => p.shell !== null) ?? false;
    this.view?.setShow({
      rubber: true,
      shells: !isDrawing && hasShell && (prefs.isShellShown || prefs.isSectionOn),
      // At the first stage the only line is the stretch being measured.
      lines: prefs.stage !== 'scan' || this.drafter.mode === 'measure',
      // Where no line is drawn its points would only hide what the picture tells.
      points: prefs.stage === 'parting' || isDrawing,
      marks: prefs.stage === 'scan',
      foundShown: prefs.foundShown,
      undercuts: this.sight.hasUndercuts && this.areUndercutsShown,
    });
    this.view?.setLockLook({ giveMm: this.session.plan.parting.rubberGiveMm, levelsMm: this.sight.levelsMm });
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

  /** The brush in the hand, and what is painted: at the pencil's stage what suggested lines avoid. */
  private showPaint(before: PainterState | undefined): void {
    const { view, painter } = this;
    if (!view) return;
    const isHeld = painter.does !== null;
    if (isHeld !== ((before ?? painter).does !== null)) {
      if (!isHeld) view.setTool(null);
      else {
        view.takeBrush(() => this.painter.radiusMm, {
          stroke: (point) => this.dispatchEvent(new CommandEvent({ do: 'paint-stroke', point })),
          lifted: (isWanted) => this.dispatchEvent(new CommandEvent({ do: 'paint-lift', isWanted })),
          resized: (factor) =>
            this.dispatchEvent(
              new CommandEvent({ do: 'paint-radius', radiusMm: this.painter.radiusMm * factor }),
            ),
        });
      }
    }
    view.setPaint(isHeld ? painter.areas : this.sight.areas);
  }

  private reproject(): void {
    const { view } = this;
    const rubber = this.session.answer?.geometry.rubber;
    if (!view || !rubber) return;
    const { answer, prefs } = this.session;
    const box = rubber.box;
    const middle = [(box.min[0] + box.max[0]) / 2, (box.min[1] + box.max[1]) / 2] as const;
    this.viewpoint = viewpointOf(
      view.project([middle[0], middle[1], 0]),
      view.project([middle[0] + 1, middle[1], 0]),
      view.project([middle[0], middle[1] + 1, 0]),
    );
    const { apartMm } = this.sight;
    const { model } = this.mapHand;
    // Weights and pulls would lie over bands that have nothing to do with them.
    const isOfPull = model === null || model.picture.of === 'draft' || model.picture.of === 'undercut';
    const isOfPieces = !this.sight.isBare && prefs.stage !== 'scan' && this.drafter.mode === 'look';
    // Slid apart, the pieces show their pulls themselves; arrows would lie across them.
    const isClosed = this.sight.isClosed;
    const areLocks = isClosed && !prefs.isSectionOn && this.sight.areLocksInSight;
    const isWhole = isOfPieces && isClosed && !prefs.isSectionOn;
    const areProbed = isWhole && (prefs.stage === 'coats' || prefs.stage === 'sheet');
    this.probes = areProbed ? probeSpots(answer?.result.probes ?? [], view) : [];
    const pieces = isWhole && isOfPull ? (answer?.geometry.pieces ?? []) : [];
    this.layAids();
    this.readMiddle();
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
      notes: this.isCutSeen
        ? this.sectionHand.notes(this.session)
        : areLocks
          ? spotNotes(answer?.result.pieces ?? [], prefs.units)
          : isWhole && prefs.stage === 'coats'
            ? thinNotes(answer?.result.pieces ?? [], prefs.units, this.session.plan.leastThicknessMm)
            : [],
      labels: areLocks ? this.depthLabels() : isClosed ? this.mapHand.labels(view) : [],
      points: (answer?.geometry.lines ?? []).flatMap(({ controlPoints: p }) =>
        Array.from({ length: p.length / 3 }, (_, i): Vec3 => [p[3 * i], p[3 * i + 1], p[3 * i + 2]]),
      ),
      rings: this.probes,
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

  /** The face of a cut is in sight, with the coats on it where they belong. */
  private get isCutSeen(): boolean {
    return this.section !== null && this.session.prefs.isSectionOn && this.sight.isClosed;
  }

  /** There is something to read under the pointer. */
  get canRead(): boolean {
    return this.mapHand.model !== null || this.isCutSeen;
  }

  private showMap(changed: PropertyValues<this>): void {
    if (
      !changed.has('session') &&
      !changed.has('maps') &&
      !changed.has('section') &&
      !changed.has('proposal')
    )
      return;
    const before = this.mapHand.model;
    this.mapHand.show(this.view, this.session, this.maps, this.sight);
    this.sectionHand.take(
      this.session.prefs.isSectionOn ? this.section : null,
      this.session.plan.coats.length,
    );
    if (this.mapHand.model === before && !changed.has('section')) return;
    this.reading = null;
    this.reproject();
    this.requestUpdate();
  }

  /** Reads where the pointer rests; a finger's reading is said aloud too, since it covers what it reads. */
  private point(place: { readonly x: number; readonly y: number; readonly isTouch: boolean } | null): void {
    const text = place && this.readAt(place.x, place.y);
    this.reading = place && text ? { ...place, text } : null;
    if (place?.isTouch && text) this.sayLater(text);
  }

  private readAt(xPx: number, yPx: number): string | null {
    if (!this.view) return null;
    if (this.isCutSeen) return this.sectionHand.read(this.view, xPx, yPx, this.session);
    return this.mapHand.read(this.view, xPx, yPx);
  }

  /** For keys: reads at the cross in the middle, and says it when the mould has come to rest. */
  private readMiddle(): void {
    if (!this.canRead || !this.host.matches(':focus-visible')) return;
    const x = this.host.clientWidth / 2;
    const y = this.host.clientHeight / 2;
    const text = this.readAt(x, y);
    if (text === this.reading?.text && this.reading.x === x) return;
    this.reading = text ? { x, y, text, isTouch: false } : null;
    this.sayLater(text ?? 'nothing at the cross');
  }

  private sayLater(text: string): void {
    clearTimeout(this.readTimer);
    this.readTimer = setTimeout(() => announce(text), SAY_AFTER_MS);
  }

  private readonly onRuler = (event: Event): void => {
    const { view } = this;
    event.stopPropagation();
    if (!view || !this.sectionHand.move(view, event as RulerEvent, this.session.prefs.units)) return;
    if ((event as RulerEvent).steps) this.sayLater(this.sectionHand.sayRuler(this.session.prefs.units));
    this.requestUpdate();
  };

  /** All that is drawn over the mould and goes into a saved picture with it. */
  private drawnShapes(): SketchShape[] {
    const { view, overlay } = this;
    if (!view || !overlay) return [];
    const shapes = overlayShapes(overlay, clearSpots(this.sight.areas, view), isStale(this.session));
    if (this.isRulerOn && this.isCutSeen)
      shapes.push(...this.sectionHand.rulerShapes(view, this.session.prefs.units));
    return shapes;
  }

  private readingShapes(): SketchShape[] {
    const { reading } = this;
    return reading ? readingShapes(reading, reading.text, this.host.clientWidth) : [];
  }

  /** What the mould is set up by: handle, measured stretch, hand or person beside it. */
  private layAids(): void {
    const { view, stander, drafter } = this;
    const { answer, prefs } = this.session;
    const rubber = answer?.geometry.rubber;
    if (!view || !rubber || prefs.stage !== 'scan') {
      this.aids = null;
      return;
    }
    const box = rubber.box;
    const { right } = view.axes();
    const handle = stander.isWaiting ? null : handleOf(stander, box, right);
    const [from, to] = drafter.points;
    const end = to ?? this.hovered;
    const isMeasuring = drafter.mode === 'measure' && from !== undefined && end !== null;
    this.aids = layOutAids({
      widthPx: this.host.clientWidth,
      heightPx: this.host.clientHeight,
      project: (point) => view.project(point),
      mmPerPixel: view.mmPerPixel(),
      right,
      box,
      // Where there is little room the panel alone tells both.
      sayLength: (mm) =>
        isMeasuring && this.host.clientWidth >= ROOMY_PX ? sayBothLengths(mm) : formatLength(mm, prefs.units),
      handle: handle && { ...handle, text: sayHandle(stander, box, prefs.units) },
      measure: isMeasuring ? { from, to: end, isLive: to === undefined } : null,
      // It would be in the way of the hand at work.
      figure:
        prefs.isScaleShown && stander.mode === 'rest' && drafter.mode === 'look'
          ? chooseScaleFigure(box.max[2])
          : null,
    });
  }

  private depthLabels(): readonly OverlayLabel[] {
    const levels = this.sight.levelsMm;
    const labels = (this.session.answer?.geometry.pieces ?? []).flatMap(({ rubber, undercut }) =>
      undercut
        ? this.finder.places(undercut, levels.join(' '), () => depthLabels(rubber, undercut, levels))
        : [],
    );
    // The deepest first: they are the ones that matter where there is not room for all.
    return [...labels]
      .filter(({ normal }) => (this.view?.facing(normal) ?? 0) > LEAST_LABEL_FACING)
      .sort((a, b) => b.level - a.level)
      .map(({ level, at }) => ({ at, text: sayLevel(level, this.session.prefs.units) }));
  }

  override render() {
    const { answer, canUndo, canRedo } = this.session;
    const { sight } = this;
    const { number, text } = this.caption();
    const { mode, points } = this.drafter;
    const help = keyHelp(this);
    return html`
      <figure @scute-look=${this.onLook}>
        <figcaption>
          <scute-figure-head
            .number=${number}
            .text=${text}
            .canUndo=${canUndo || (sight.isDrawing && points.length > 0)}
            .canRedo=${canRedo}
          ></scute-figure-head>
        </figcaption>
        <div class="stage" data-mode=${mode}>
          <div
            class="host"
            tabindex="0"
            role="application"
            aria-label="The mould in 3D. Arrow keys turn it, with Shift they move it; plus and minus zoom; 1 to 5 are the five views; F fits it.${
              help === null ? '' : ` ${help}`
            }"
            @keydown=${this.onKey}
          ></div>
          ${help === null ? nothing : cross(help)}
          ${
            answer
              ? html`<scute-figure-overlay
                  .shapes=${[...this.drawnShapes(), ...this.readingShapes()]}
                ></scute-figure-overlay>
                <scute-figure-probes .spots=${this.probes}></scute-figure-probes>
                <scute-figure-aids .picture=${this.aids}></scute-figure-aids>
                ${
                  this.view && this.isRulerOn && this.isCutSeen
                    ? html`<scute-section-ruler
                        .ends=${this.sectionHand.rulerEnds(this.view)}
                        .text=${this.sectionHand.sayRuler(this.session.prefs.units)}
                        @scute-ruler=${this.onRuler}
                      ></scute-section-ruler>`
                    : nothing
                }`
              : html`<scute-figure-empty .session=${this.session}></scute-figure-empty>`
          }
          ${this.trouble ? html`<p class="trouble">${this.trouble}</p>` : nothing}
          ${answer ? html`<scute-figure-tools></scute-figure-tools>` : nothing}
        </div>
        ${
          answer
            ? html`<scute-figure-touch .session=${this.session} .sight=${sight}></scute-figure-touch>
                <scute-figure-legend
                  .session=${this.session}
                  .sight=${sight}
                  .maps=${this.maps}
                  .map=${this.mapHand.model}
                  .hasProposal=${this.proposal !== null}
                  .areUndercutsShown=${this.areUndercutsShown}
                  @value=${(e: ValueEvent<boolean>) => {
                    this.areUndercutsShown = e.value;
                  }}
                ></scute-figure-legend>`
            : nothing
        }
        <scute-figure-foot
          .session=${this.session}
          .isDrawing=${sight.isDrawing}
          .isRulerOn=${this.isRulerOn}
          @value=${(e: ValueEvent<boolean>) => {
            this.isRulerOn = e.value;
          }}
        ></scute-figure-foot>
      </figure>
    `;
  }

  private readonly onLook = (event: Event): void => {
    const { view } = this;
    const { look } = event as FigureLookEvent;
    event.stopPropagation();
    if (look === 'nearer') view?.zoomBy(ZOOM_FACTOR);
    else if (look === 'farther') view?.zoomBy(1 / ZOOM_FACTOR);
    else if (look === 'fit') view?.fit();
    else this.lookFrom(look);
  };

  private readonly onKey = (event: KeyboardEvent): void => {
    if (this.view && !event.ctrlKey && !event.metaKey && !event.altKey) {
      const { key, shiftKey: isShift } = event;
      if (this.view.pressKey({ key, isShift })) {
        event.preventDefault();
        return;
      }
    }
    if (this.view && (this.goToPoint(event) || turnByKey(event, this.view, this.drafter)))
      event.preventDefault();
  };

  /** N: selects the next point of the lines while they are moved, and turns the mould so that it lies at the cross; Shift: the one before. */
  private goToPoint({ key, shiftKey, ctrlKey, metaKey, altKey }: KeyboardEvent): boolean {
    if (key.toLowerCase() !== 'n' || ctrlKey || metaKey || altKey || this.drafter.mode !== 'edit')
      return false;
    const lines = (this.session.answer?.geometry.lines ?? []).map(({ controlPoints }) => controlPoints);
    const place = stepPoint(
      lines.map(({ length }) => length / 3),
      this.drafter.selected,
      shiftKey ? -1 : 1,
    );
    if (place === null) return false;
    const { line, point } = place;
    const points = lines[line];
    this.view?.showSpot([points[3 * point], points[3 * point + 1], points[3 * point + 2]]);
    this.tell({ do: 'select', line, point });
    announce(`Point ${point + 1} of ${points.length / 3}, line ${line + 1}`);
    return true;
  }

  /** What takes the figure's keys. */
  get keyHost(): HTMLElement {
    return this.host;
  }

  private tell(what: RubberEvent['what']): void {
    this.dispatchEvent(new RubberEvent(what));
  }

  private prefer(change: PrefsEvent['change']): void {
    this.dispatchEvent(new PrefsEvent(change));
  }
}
