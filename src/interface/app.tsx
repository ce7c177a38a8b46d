/** The table: sheet left, model right, the column beside them, the storyboard beneath. */

import { X } from 'lucide-react';
import { lazy, Suspense, useEffect, useRef, useState } from 'react';
import { words } from '../words/words.ts';
import { Column, ColumnParts, SelectionSection } from './column/column.tsx';
import { desk, useDesk } from './desk.ts';
import { Header, openFiles } from './header.tsx';
import { InsideRows } from './inside/inside-tools.tsx';
import { SectionPart } from './inside/section-part.tsx';
import { listenToPage } from './listen.ts';
import { ModelView } from './model/model-view.tsx';
import { Panels } from './panels.tsx';
import { Button, Chips } from './parts/button.tsx';
import { Tool } from './parts/tool.tsx';
import { SheetView } from './sheet/sheet-view.tsx';
import { Storyboard } from './storyboard/storyboard.tsx';
import './app.css';

const ReadingNow = lazy(() => import('./opening/reading-now.tsx'));

export function App() {
  const dark = useDesk((state) => state.look.dark);
  const view = useDesk((state) => state.look.view);
  const lesson = useDesk((state) => state.document.lesson);
  const graphics = useDesk((state) => state.look.graphics);
  const panels = useDesk((state) => state.document.sheet?.panelRings.length);
  const drawing = useDesk((state) => state.drawing.on);
  const title = lesson?.title;
  useEffect(() => {
    if (title !== undefined) document.title = `${title} · ${words.tool}`;
  }, [title]);
  useEffect(() => {
    document.documentElement.dataset.table = dark ? 'dark' : 'light';
  }, [dark]);
  useEffect(() => {
    const end = desk.begin();
    const deaf = listenToPage(desk);
    void desk.opening.begin();
    return () => {
      deaf();
      end();
    };
  }, []);
  return (
    <div
      className="app"
      data-view={view}
      data-graphics={graphics}
      data-panels={panels}
      data-empty={lesson === null || undefined}
      data-drawing={drawing || undefined}
    >
      <Header />
      <Notice />
      <main className="table">
        <SheetView />
        <ModelView />
        {!lesson && <p className="opening">{words.openLesson}</p>}
        <Chips
          className="view-switch narrow-only"
          label={words.view}
          value={view}
          options={[
            { value: 'model', shown: words.model },
            { value: 'sheet', shown: words.sheet },
          ]}
          onChange={(one) => desk.store.put({ look: { view: one } })}
        />
      </main>
      <Column />
      <BottomSheet />
      <Storyboard />
      <Panels />
      <DropPlace />
    </div>
  );
}

/** On a phone what is selected, or all that the column tells, rises from below; the slider stays free. */
function BottomSheet() {
  const selection = useDesk((state) => state.look.selection);
  const toldMore = useDesk((state) => state.look.toldMore);
  const slice = useDesk((state) => state.inside.slice !== null);
  const narrow = useNarrow();
  const open = narrow && (selection !== null || toldMore || slice);
  const sheet = useSheetRoom(open && !toldMore);
  if (!open) return null;
  return (
    <aside
      className={`bottom-sheet${toldMore ? '' : ' bottom-sheet-short'}`}
      aria-label={words.about}
      ref={sheet}
    >
      <h2 className="unseen">{words.about}</h2>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and must do so by keyboard */}
      <div className="bottom-sheet-parts" tabIndex={0}>
        {toldMore ? <ColumnParts /> : <ShortParts />}
      </div>
      <Tool
        label={words.dismiss}
        icon={X}
        onPress={() => {
          desk.store.put({ inside: { slice: null, tuck: null } });
          desk.store.put({ look: { selection: null, marks: null, toldMore: false } });
        }}
      />
    </aside>
  );
}

/** The section while there is a slice, the stack and what is selected. */
function ShortParts() {
  const selection = useDesk((state) => state.look.selection);
  return (
    <>
      <InsideRows />
      <SectionPart />
      {selection && <SelectionSection />}
    </>
  );
}

/** Keeps the model out from under a sheet that has risen. */
function useSheetRoom(open: boolean) {
  const sheet = useRef<HTMLElement>(null);
  useEffect(() => {
    const board = document.querySelector<HTMLElement>('.model-board');
    const element = sheet.current;
    if (!open || !board || !element) return;
    const measure = () => {
      board.style.setProperty('--room-below', String(element.offsetHeight + 14));
      desk.screen.now?.remeasure();
    };
    const watcher = new ResizeObserver(measure);
    watcher.observe(element);
    return () => {
      watcher.disconnect();
      board.style.removeProperty('--room-below');
      desk.screen.now?.remeasure();
    };
  }, [open]);
  return sheet;
}

function useNarrow(): boolean {
  const [narrow, setNarrow] = useState(() => matchMedia('(max-width: 47.5em)').matches);
  useEffect(() => {
    const query = matchMedia('(max-width: 47.5em)');
    const hear = () => setNarrow(query.matches);
    query.addEventListener('change', hear);
    return () => query.removeEventListener('change', hear);
  }, []);
  return narrow;
}

function Notice() {
  const notice = useDesk((state) => state.look.notice);
  const isReading = useDesk(({ opening }) => opening.reading !== null && opening.asked === null);
  useEffect(() => {
    if (notice?.tone !== 'plain' || notice.stays) return;
    const timer = setTimeout(() => desk.store.put({ look: { notice: null } }), notice.action ? 9000 : 4000);
    return () => clearTimeout(timer);
  }, [notice]);
  return (
    <div role="status" className="notice-place">
      {isReading && (
        <Suspense>
          <ReadingNow />
        </Suspense>
      )}
      {notice && (
        <div className={`notice notice-${notice.tone}`} data-testid="notice">
          <p>{notice.text}</p>
          {notice.action && (
            <Button
              className="quiet-button"
              onPress={() => {
                desk.store.put({ look: { notice: null } });
                notice.action?.run();
              }}
            >
              {notice.action.label}
            </Button>
          )}
          <Tool label={words.dismiss} icon={X} onPress={() => desk.store.put({ look: { notice: null } })} />
        </div>
      )}
    </div>
  );
}

/** Files may be dropped anywhere. */
function DropPlace() {
  const [over, setOver] = useState(false);
  useEffect(() => {
    let depth = 0;
    const carriesFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
    const enter = (event: DragEvent) => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      if (event.type === 'dragenter') depth++;
      setOver(true);
    };
    const leave = () => {
      depth = Math.max(0, depth - 1);
      if (depth === 0) setOver(false);
    };
    const drop = (event: DragEvent) => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      depth = 0;
      setOver(false);
      void openFiles(event.dataTransfer?.files ?? null);
    };
    window.addEventListener('dragenter', enter);
    window.addEventListener('dragover', enter);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragenter', enter);
      window.removeEventListener('dragover', enter);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, []);
  if (!over) return null;
  return (
    <div className="drop-place">
      <p>
        {words.dropHere}
        <small>{words.dropKinds}</small>
      </p>
    </div>
  );
}
