/** The head of the table. */

import { Download, Ellipsis, FolderOpen, Keyboard, Moon, Redo2, Sun, Undo2 } from 'lucide-react';
import { lazy, type RefObject, Suspense, useRef } from 'react';
import { type ShelfPanelName, shelfPanels } from '../desk/store.ts';
import { words } from '../words/words.ts';
import type { FileFormat } from '../worker/protocol.ts';
import { desk, useDesk } from './desk.ts';
import { Button } from './parts/button.tsx';
import type { MenuEntry } from './parts/menu.ts';
import { MenuButton } from './parts/menu-button.tsx';
import { Tool } from './parts/tool.tsx';
import './header.css';

const PaperPopover = lazy(() => import('./paper-popover.tsx'));

const accepted = ['.svg', '.pdf', '.png', '.jpg', '.jpeg', '.webp', '.dxf', '.fold', '.json', '.lesson'];
const formats: readonly FileFormat[] = ['lesson', 'fold', 'svg', 'dxf', 'glb', 'obj'];

/** Title of the lesson, its paper, and the few menus. */
export function Header() {
  return (
    <header className="header">
      <LessonWords />
      <nav className="header-tools" aria-label={words.tool}>
        <FileMenus />
        <span className="divider wide-only" />
        <UndoTools />
        <span className="wide-only header-tools">
          <TableTool />
          <Tool label={words.keys} keyName={desk.commands.keyOf('keys')} icon={Keyboard} onPress={showKeys} />
        </span>
        <MoreMenu />
        <FileChooser />
      </nav>
    </header>
  );
}

const showKeys = () => desk.commands.run('keys');
const showPaper = () => desk.commands.run('paper');

function LessonWords() {
  const lesson = useDesk((state) => state.document.lesson);
  const paper = useRef<HTMLButtonElement>(null);
  return (
    <div className="header-words">
      <h1>{lesson?.title ?? words.tool}</h1>
      {lesson && (
        <p className="header-place">
          {lesson.place && <span className="place">{lesson.place}</span>}
          <Button ref={paper} className="summary-button" onPress={showPaper}>
            <span className="swatch" style={{ background: lesson.sheet.sides.a.colour }} />
            <span className="swatch" style={{ background: lesson.sheet.sides.b.colour }} />
            <span>{words.sheetSummary(lesson.sheet.size, lesson.sheet.sides[lesson.sheet.sideUp].name)}</span>
          </Button>
          <PaperPlace anchor={paper} />
          <Button className="summary-button wide-only" onPress={() => desk.library.show('about')}>
            <span>{words.aboutLesson}</span>
          </Button>
        </p>
      )}
    </div>
  );
}

/** The paper's panel comes from a library, fetched when it is first wanted. */
function PaperPlace({ anchor }: { anchor: RefObject<HTMLElement | null> }) {
  const shown = useDesk((state) => state.look.paperShown);
  if (!shown) return null;
  return (
    <Suspense>
      <PaperPopover anchor={anchor} />
    </Suspense>
  );
}

function FileMenus() {
  const hasLesson = useDesk((state) => state.document.lesson !== null);
  return (
    <>
      <MenuButton
        className="text-button wide-only"
        menu={() => ({
          ...{ label: words.lessons, placement: 'bottom end', onChoose: chooseLesson },
          parts: [{ entries: panelEntries() }, { entries: lessonEntries(true) }],
        })}
      >
        {words.lessons}
      </MenuButton>
      <Button className="text-button wide-only" onPress={desk.around.page.chooseFile}>
        <FolderOpen size={16} strokeWidth={1.75} aria-hidden="true" /> {words.openShort}
      </Button>
      <MenuButton
        className="text-button wide-only"
        isDisabled={!hasLesson}
        menu={() => ({
          ...{ label: words.save, placement: 'bottom end', onChoose: save },
          parts: [{ entries: formatEntries() }],
        })}
      >
        <Download size={16} strokeWidth={1.75} aria-hidden="true" /> {words.save}
      </MenuButton>
    </>
  );
}

function UndoTools() {
  const canUndo = useDesk((state) => state.document.canUndo);
  const canRedo = useDesk((state) => state.document.canRedo);
  return (
    <>
      <Tool
        label={words.undo}
        keyName={desk.commands.keyOf('undo')}
        icon={Undo2}
        isDisabled={!canUndo}
        onPress={desk.edits.undo}
      />
      <Tool
        label={words.redo}
        keyName={desk.commands.keyOf('redo')}
        icon={Redo2}
        isDisabled={!canRedo}
        onPress={desk.edits.redo}
      />
    </>
  );
}

function TableTool() {
  const dark = useDesk((state) => state.look.dark);
  return (
    <Tool
      label={dark ? words.lightTable : words.darkTable}
      keyName={desk.commands.keyOf('table')}
      icon={dark ? Sun : Moon}
      onPress={desk.views.toggleTable}
    />
  );
}

/** On a phone all menus are one. */
function MoreMenu() {
  return (
    <MenuButton
      className="tool narrow-only"
      name={words.more}
      menu={() => ({
        ...{ label: words.more, placement: 'bottom end', onChoose: chooseMore },
        parts: [
          {
            entries: [
              { id: 'paper', name: words.paper },
              { id: 'open', name: words.open },
              ...panelEntries(),
              { id: 'table', name: desk.store.look.dark ? words.lightTable : words.darkTable },
            ],
          },
          { heading: words.save, entries: formatEntries() },
          { heading: words.lessons, entries: lessonEntries(false) },
        ],
      })}
    >
      <Ellipsis size={18} strokeWidth={1.75} aria-hidden="true" />
    </MenuButton>
  );
}

function FileChooser() {
  return (
    <input
      id="open-file-anywhere"
      type="file"
      hidden
      accept={accepted.join(',')}
      onChange={(event) => {
        void openFiles(event.currentTarget.files);
        event.currentTarget.value = '';
      }}
    />
  );
}

function chooseMore(id: string): void {
  if (id === 'paper' || id === 'open' || id === 'table') desk.commands.run(id);
  else if (formats.includes(id as FileFormat)) save(id);
  else chooseLesson(id);
}

function chooseLesson(id: string): void {
  const entry = desk.store.shelf.samples.find((one) => one.file === id);
  if (id === NEW) void desk.drawing.fetch().then(desk.opening.newLesson).then(desk.drawing.begin);
  else if (entry) void desk.opening.openSample(entry);
  else if (isPanel(id)) desk.library.show(id);
}

const save = (format: string) => void desk.saving.save(format as FileFormat);

const NEW = 'new lesson';

/** New lesson and the samples. @param told with a word about each */
function lessonEntries(told: boolean): MenuEntry[] {
  const { samples } = desk.store.shelf;
  return [
    { id: NEW, name: words.newLesson, ...(told && { note: words.newLessonWhat }) },
    ...samples.map(({ file, title, place, refused }) => ({
      ...{ id: file, name: title },
      ...((told || refused) && { note: refused ? words.sampleRefused(place) : place }),
    })),
  ];
}

const formatEntries = (): MenuEntry[] => formats.map((id) => ({ id, name: words.saveAs[id] }));

const isPanel = (key: string): key is ShelfPanelName => shelfPanels.includes(key as ShelfPanelName);

/** The panels that tell of kept lessons. */
function panelEntries(): MenuEntry[] {
  const names: Record<ShelfPanelName, string> = {
    library: words.yourLessons,
    about: words.aboutLesson,
    versions: words.versions,
  };
  return shelfPanels.map((id) => ({ id, name: `${names[id]}…` }));
}

export async function openFiles(files: FileList | null): Promise<void> {
  const file = files?.[0];
  if (file) await desk.opening.openBytes(file.name, new Uint8Array(await file.arrayBuffer()));
}
