/**
 * A session without a screen: everything that a teacher can do, put together. Each part says in its constructor what it
 * works with; nothing runs before `begin`.
 */
import type { Around, End } from './around.ts';
import { ScreenPlace } from './around.ts';
import { Commands } from './commands.ts';
import { CreditEdits } from './document/credit.ts';
import { Edits } from './document/edits.ts';
import { History } from './document/history.ts';
import { Homes } from './document/homes.ts';
import { Keeping } from './document/keeping.ts';
import { KeptLooks } from './document/kept-looks.ts';
import { LastOnTable } from './document/last.ts';
import { Library } from './document/library.ts';
import { Opening } from './document/opening.ts';
import { PaperEdits } from './document/paper.ts';
import { Reading } from './document/reading.ts';
import { Saving } from './document/saving.ts';
import { ShelfNews } from './document/shelf-news.ts';
import { Table } from './document/table.ts';
import { AtRest } from './play/at-rest.ts';
import { Player } from './play/player.ts';
import { Playhead } from './play/playhead.ts';
import { SetDown } from './play/set-down.ts';
import { StepLooks } from './play/step-looks.ts';
import { Tuck } from './play/tuck.ts';
import { Views } from './play/views.ts';
import { LayersNow } from './run/layers-now.ts';
import { Looks } from './run/looks.ts';
import { Mends } from './run/mends.ts';
import { Pictures } from './run/pictures.ts';
import { Proposing } from './run/proposing.ts';
import { Rebuild } from './run/rebuild.ts';
import { Taught } from './run/taught.ts';
import { Tracks } from './run/tracks.ts';
import { Wrongs } from './run/wrongs.ts';
import { Store } from './store.ts';
import { DrawingTool } from './tools/drawing-tool.ts';
import { FoldingTool } from './tools/folding-tool.ts';
import { Inside } from './tools/inside.ts';
import { LookInside } from './tools/look-inside.ts';
import { Picking } from './tools/picking.ts';
import { Steps } from './tools/steps.ts';

export class Desk {
  readonly store = new Store();
  readonly playhead = new Playhead();
  readonly screen = new ScreenPlace();
  private readonly homes = new Homes();
  private readonly history = new History();

  // playing
  readonly player: Player;
  readonly atRest: AtRest;
  readonly setDown: SetDown;
  readonly stepLooks: StepLooks;
  readonly tuck: Tuck;
  readonly views: Views;

  // the run
  readonly looks: Looks;
  readonly layersNow: LayersNow;
  readonly tracks: Tracks;
  readonly pictures: Pictures;
  readonly mends: Mends;
  readonly wrongs: Wrongs;
  readonly proposing: Proposing;

  // the document
  readonly edits: Edits;
  readonly paper: PaperEdits;
  readonly credit: CreditEdits;
  readonly keeping: Keeping;
  readonly taught: Taught;
  readonly keptLooks: KeptLooks;
  readonly opening: Opening;
  readonly saving: Saving;
  readonly library: Library;

  // tools
  readonly picking: Picking;
  readonly steps: Steps;
  readonly drawing: DrawingTool;
  readonly folding: FoldingTool;
  readonly inside: Inside;
  readonly lookInside: LookInside;
  readonly commands: Commands;
  private readonly news: ShelfNews;

  constructor(readonly around: Around) {
    const { store, playhead, screen, homes, history } = this;
    const { clock, files, solver, layers, shelf, motionReduced, page } = around;

    const player = (this.player = new Player(store, playhead, around));
    const atRest = (this.atRest = new AtRest(store, playhead, solver, clock));
    this.setDown = new SetDown(store, playhead, screen, around);
    const stepLooks = (this.stepLooks = new StepLooks(store, playhead, screen, motionReduced));

    const looks = (this.looks = new Looks(store, playhead, layers, screen));
    const layersNow = (this.layersNow = new LayersNow(store, playhead, layers, clock));
    this.taught = new Taught(store);
    const run = { store, playhead, player, atRest, looks, solver, clock, screen };
    const tracks = (this.tracks = new Tracks(run));
    const pictures = (this.pictures = new Pictures(store, screen, clock));
    this.mends = new Mends(store, around.mends);
    this.wrongs = new Wrongs(store, playhead, screen, around.startWrongs);
    const rebuild = new Rebuild(store, playhead, tracks, looks, solver);
    this.tuck = new Tuck({ store, playhead, player, layersNow, around });

    const news = (this.news = new ShelfNews(around.others));
    const last = new LastOnTable(around.memory, shelf);
    const saving = (this.saving = new Saving(store, playhead, solver, around.handOver));
    const keeping = (this.keeping = new Keeping({
      ...{ store, history, homes, last, news, shelf, around },
      reopen: (id) => this.opening.openKept(id),
      saveAsFile: () => saving.save('lesson'),
    }));
    const table = new Table(store, player, tracks, screen);
    const changing = { store, history, table, keeping, playhead, tracks, looks, rebuild, pictures };
    const edits = (this.edits = new Edits({ ...changing, screen, around }));
    this.keptLooks = new KeptLooks({ store, homes, news, playhead, stepLooks, shelf, clock });
    const reading = new Reading(store, files, clock);
    const opening = { store, edits, homes, last, stepLooks, shelf, reading, solver, screen, around };
    this.opening = new Opening(opening);
    const listing = { store, edits, homes, keeping, news, shelf, around };
    this.library = new Library({ ...listing, opening: this.opening });
    this.paper = new PaperEdits(store, edits);
    this.credit = new CreditEdits(edits);
    this.views = new Views(store, edits, around.memory);

    const picking = (this.picking = new Picking(store));
    const proposing = (this.proposing = new Proposing(store, playhead));
    this.steps = new Steps({ store, edits, playhead, player, tracks, stepLooks, picking, proposing });
    this.drawing = new DrawingTool(store, edits, picking);
    this.folding = new FoldingTool({ store, edits, playhead, tracks, layersNow, screen, clock });
    this.inside = new Inside({ store, playhead, layersNow, screen });
    this.lookInside = new LookInside(store, playhead, this.inside, screen);
    this.commands = new Commands({ ...this.hands, page });
  }

  /** Begins to follow what happens. @returns a call that ends it */
  begin(): End {
    this.news.begin();
    this.views.begin(this.around.prefersDark());
    const ends = [
      this.atRest,
      this.layersNow,
      this.stepLooks,
      this.inside,
      this.tuck,
      this.taught,
      this.keptLooks,
      this.library,
    ].map((part) => part.begin());
    return () => {
      for (const end of ends) end();
    };
  }

  /** Fetches what only a model that is seen asks for. */
  async fetchForModel(): Promise<void> {
    await Promise.all([this.tracks.fetchPainter(), this.inside.fetch()]);
  }

  private get hands() {
    const { store, edits, paper, saving, player, setDown, tuck, views, tracks } = this;
    const { drawing, folding, lookInside, picking, steps } = this;
    return {
      store,
      edits,
      paper,
      saving,
      player,
      setDown,
      tuck,
      views,
      tracks,
      drawing,
      folding,
      lookInside,
      picking,
      steps,
    };
  }
}
