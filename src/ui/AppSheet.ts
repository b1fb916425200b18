import { html, LitElement, nothing } from 'lit';
import { customElement, property, query, state } from 'lit/decorators.js';
import type { Suggestion } from '../core/parting/suggest/Suggestion.ts';
import type { LinePicture } from '../jobs/protocol.ts';
import { appStyles } from './appStyles.ts';
import { isBenchLoaded, loadBench } from './bench/loadBench.ts';
import { carryOut } from './control/carryOut.ts';
import { FileDrop } from './control/FileDrop.ts';
import { FocusKeeper } from './control/FocusKeeper.ts';
import { MediaMatch } from './control/MediaMatch.ts';
import { PageKeys } from './control/PageKeys.ts';
import { StageLoader } from './control/StageLoader.ts';
import type { Workshop } from './control/Workshop.ts';
import { type Command, CommandEvent, PlanEditEvent, PrefsEvent } from './events.ts';
import type { MouldFigure } from './figure/MouldFigure.ts';
import { RubberEvent } from './figure/RubberEvent.ts';
import { proposalLines } from './proposalLines.ts';
import { sharedStyles } from './sharedStyles.ts';
import { stageStates } from './stageStates.ts';
import './figure/MouldFigure.ts';
import './NoticeList.ts';
import './parts/HintCard.ts';
import './parts/LiveRegion.ts';
import './panels/CoatsPanel.ts';
import './panels/PartingPanel.ts';
import './panels/ScanPanel.ts';
import './SheetSettings.ts';
import './StageRail.ts';
import './TitleBlock.ts';

/** The whole sheet: border, margin with the stages, figure, panel, title block. Hears every request and passes it on. */
/** Width of a kept plan's picture: twice that of its place in the drawer, for fine screens. */
const PLAN_PICTURE_PX = 240;

@customElement('scute-app')
export class AppSheet extends LitElement {
  static override styles = [sharedStyles, appStyles];

  @property({ attribute: false }) workshop!: Workshop;

  /** Pieces slid by themselves, by index, mm; the slider for all takes them back in. */
  @state() private slides: ReadonlyMap<number, number> = new Map();
  @query('input[type="file"]') private fileInput!: HTMLInputElement;
  /** Not there at the bench. */
  @query('scute-figure') private figure!: MouldFigure;
  private readonly darkness = new MediaMatch(this, '(prefers-color-scheme: dark)');
  private proposed: Suggestion | null = null;
  private proposedLines: readonly LinePicture[] | null = null;
  private unsubscribe: () => void = () => {};
  private readonly stages = new StageLoader(() =>
    this.workshop.store.notify(
      'stage',
      'problem',
      'This stage could not be loaded. Is the network gone? Go online once and open the stage again; after that it works without.',
    ),
  );
  private readonly drop = new FileDrop(this, (file) => void this.workshop.openFile(file));

  constructor() {
    super();
    new FocusKeeper(this, {
      inHand: () => (this.workshop.store.state.prefs.isAtBench ? 'bench' : this.workshop.inHand),
      figure: () => this.figure?.keyHost ?? null,
    });
    new PageKeys(this, () => ({
      drafter: this.workshop.drafter,
      ask: (command) => this.ask(command),
      lookFrom: (aspect) => this.figure?.lookFrom(aspect),
    }));
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.workshop.drawer.takePicture = async () => (await this.figure?.takeView(PLAN_PICTURE_PX)) ?? null;
    this.unsubscribe = this.workshop.subscribe(() => this.requestUpdate());
    this.addEventListener(PlanEditEvent.type, this.onEdit);
    this.addEventListener(PrefsEvent.type, this.onPrefs);
    this.addEventListener(CommandEvent.type, this.onCommand);
    this.addEventListener(RubberEvent.type, this.onRubber);
    document.addEventListener('visibilitychange', this.onHidden);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.unsubscribe();
    document.removeEventListener('visibilitychange', this.onHidden);
  }

  override willUpdate(): void {
    const { answer, prefs } = this.workshop.store.state;
    void this.stages.open(prefs.stage);
    if (answer?.isFinal) this.stages.loadAhead();
    const { theme } = prefs;
    const root = document.documentElement;
    if (theme === 'system') delete root.dataset['theme'];
    else root.dataset['theme'] = theme;
  }

  override render() {
    const { store, drafter, cutter, drawer } = this.workshop;
    const session = store.state;
    const { prefs } = session;
    const scheme = this.schemeNow();
    if (prefs.isAtBench) {
      if (!isBenchLoaded()) void this.openBench();
      return html`
        ${isBenchLoaded() ? html`<scute-bench .session=${session}></scute-bench>` : nothing}
        <scute-live-region></scute-live-region>
      `;
    }
    return html`
      <div class="sheet">
        <scute-rail role="banner" .stage=${prefs.stage} .states=${stageStates(session)}></scute-rail>
        <scute-settings role="region" aria-label="For the whole sheet" .prefs=${prefs} scheme=${scheme}></scute-settings>
        <main class="figure ${prefs.stage === 'sheet' ? 'paper' : ''}">
          <scute-figure
            ?inert=${prefs.stage === 'sheet'}
            .session=${session}
            .drafter=${drafter.state}
            .painter=${this.workshop.painter.state}
            .stander=${this.workshop.stander.state}
            .section=${drafter.state.mode === 'look' ? cutter.picture : null}
            .maps=${this.workshop.maps.state}
            .proposal=${this.proposalShown()}
            .themeKey=${scheme}
          ></scute-figure>
          <scute-shop-sheet
            role="region"
            aria-label="The shop sheet"
            tabindex="0"
            .session=${session}
            .sides=${this.workshop.sides.sides}
          ></scute-shop-sheet>
        </main>
        <aside aria-label="Choices of this stage">
          <scute-notices .notices=${session.notices}></scute-notices>
          <div class="panel">
            ${session.answer ? html`<scute-hints .seen=${prefs.hintsSeen} stage=${prefs.stage}></scute-hints>` : nothing}
            ${this.renderPanel()}
          </div>
        </aside>
        <scute-title-block role="contentinfo" .session=${session}></scute-title-block>
        <scute-live-region></scute-live-region>
        <scute-plan-drawer .drawer=${drawer.state} .units=${prefs.units}></scute-plan-drawer>
        ${this.drop.isOver ? html`<div class="drop">Drop to open</div>` : nothing}
      </div>
      <input
        type="file"
        hidden
        aria-label="Scan or plan file"
        accept=".stl,.ply,.obj,.glb,.3mf,.json,.scute"
        @change=${this.onPicked}
      />
    `;
  }

  /** The bench is a part of its own, fetched when it is wanted. */
  private async openBench(): Promise<void> {
    try {
      await loadBench();
      this.requestUpdate();
    } catch {
      const { store } = this.workshop;
      store.setPrefs({ isAtBench: false });
      store.notify(
        'bench',
        'problem',
        'The bench view could not be loaded. Is the network gone? Go online once and try again; after that it works without.',
      );
    }
  }

  private renderPanel() {
    const { store, drafter, finder, charter, keeper } = this.workshop;
    const session = store.state;
    switch (session.prefs.stage) {
      case 'scan':
        return html`<scute-scan-panel
          .session=${session}
          .painter=${this.workshop.painter.state}
          .stander=${this.workshop.stander.state}
          .drafter=${drafter.state}
          .measuredMm=${drafter.measuredMm}
        ></scute-scan-panel>`;
      case 'parting':
        return html`<scute-parting-panel
          .session=${session}
          .drafter=${drafter.state}
          .canFinish=${drafter.canFinish}
          .finder=${finder.state}
          .charter=${charter.state}
          .slides=${this.slides}
          .isMarkingNotHere=${drafter.state.mode === 'avoid'}
        ></scute-parting-panel>`;
      case 'coats':
        return html`<scute-coats-panel .session=${session} .kept=${keeper.state.materials}></scute-coats-panel>`;
      case 'mix':
        return html`<scute-mix-panel .session=${session} .kept=${keeper.state.materials} .shop=${keeper.state}></scute-mix-panel>`;
      case 'sheet':
        return html`<scute-sheet-panel .session=${session} .shop=${keeper.state}></scute-sheet-panel>`;
    }
  }

  /** Lines of the suggestion that is looked at; the same list while it is the same one, so that the figure draws it once. */
  private proposalShown(): readonly LinePicture[] | null {
    const { shown, suggestions } = this.workshop.finder.state;
    const suggestion = shown === null ? null : (suggestions[shown] ?? null);
    if (suggestion !== this.proposed) {
      this.proposed = suggestion;
      this.proposedLines = suggestion && proposalLines(suggestion);
    }
    return this.proposedLines;
  }

  private schemeNow(): 'light' | 'dark' {
    const { theme } = this.workshop.store.state.prefs;
    if (theme !== 'system') return theme;
    return this.darkness.matches ? 'dark' : 'light';
  }

  /** Prints when the sheet has its pictures, or when it is known that it gets none: the sheet then says so. */
  private async printSheet(): Promise<void> {
    await this.workshop.sides.ready();
    await this.updateComplete;
    window.print();
  }

  private readonly onEdit = (event: Event) => {
    const { edit, gesture } = event as PlanEditEvent;
    this.workshop.store.edit(edit, gesture);
  };

  private readonly onPrefs = (event: Event) => {
    const { change } = event as PrefsEvent;
    // A pencil left down on another stage would draw where nobody expects it.
    if (change.stage) {
      this.workshop.drafter.rest();
      this.workshop.finder.hold(null);
    }
    if (change.apart !== undefined) this.slides = new Map();
    this.workshop.store.setPrefs(change);
  };

  private readonly onRubber = (event: Event) => {
    const { what } = event as RubberEvent;
    const { drafter } = this.workshop;
    if (what.do === 'add') drafter.addPoint(what.hit.point);
    else if (what.do === 'move') drafter.movePoint(what.line, what.point, what.hit.point, what.done);
    else drafter.select(what.line, what.point);
  };

  private readonly onCommand = (event: Event) => {
    this.ask((event as CommandEvent).command);
  };

  private ask(command: Command): void {
    carryOut(command, {
      workshop: this.workshop,
      figure: this.figure,
      pickFile: () => this.fileInput.click(),
      printSheet: () => this.printSheet(),
      slidePiece: (piece, mm) => {
        this.slides = new Map(this.slides).set(piece, mm);
        this.figure?.setApartOf(piece, mm);
      },
    });
  }

  private readonly onPicked = () => {
    const file = this.fileInput.files?.[0];
    // Emptied, so that the same file can be picked again after it was changed.
    this.fileInput.value = '';
    if (file) void this.workshop.openFile(file);
  };

  private readonly onHidden = () => {
    if (document.visibilityState === 'hidden') void this.workshop.flush();
    else void this.workshop.lookAgain();
  };
}
