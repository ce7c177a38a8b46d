/** The flat sheet: its picture, the hand and the keys on it, and the tools below. */

import { Maximize, Minus, Plus } from 'lucide-react';
import { lazy, Suspense, useEffect, useRef, useState } from 'react';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { whenIdle } from '../parts/idle.ts';
import { Tool } from '../parts/tool.tsx';
import { DrawButton } from './draw-button.tsx';
import { useRowsHeight, useSheetEye } from './sheet-eye.ts';
import { SheetHand } from './sheet-hand.ts';
import { onSheetKey } from './sheet-keys.ts';
import { SheetPicture, useDrawnSheet } from './sheet-lines.tsx';
import './sheet-view.css';

const fetchRows = () => import('./draw-row.tsx');
const DrawRows = lazy(fetchRows);

const ZOOM = 1.4;
const noSheet = { width: 1, height: 1 };

export function SheetView() {
  const sheet = useDesk((state) => state.document.sheet);
  const title = useDesk((state) => state.document.lesson?.title);
  const inDrawing = useDesk((state) => state.drawing.on);
  const board = useRef<HTMLDivElement>(null);
  const [rows, setRows] = useState<HTMLElement | null>(null);
  const drawn = useDrawnSheet(sheet);
  const eye = useSheetEye(board, drawn?.box ?? noSheet, useRowsHeight(rows), title);
  // fetched once the page has a moment, so that they are there when drawing begins
  useEffect(() => whenIdle(() => Promise.all([fetchRows(), desk.drawing.fetch()])), []);
  const [hand] = useState(() => new SheetHand());
  hand.on = { sheet, eye };
  return (
    <section className="view sheet-view" aria-label={words.sheet}>
      <h2 className="view-name">{words.sheet}</h2>
      <div
        ref={board}
        className="sheet-board"
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys walk the creases
        tabIndex={0}
        aria-label={words.sheetDrawing(title ?? '')}
        onPointerDown={hand.down}
        onPointerMove={hand.move}
        onPointerUp={hand.up}
        onPointerCancel={hand.up}
        onPointerLeave={hand.leave}
        onKeyDown={(event) => onSheetKey(event, sheet, eye)}
      >
        <SheetPicture drawn={drawn} eye={eye} />
      </div>
      {inDrawing && (
        <Suspense>
          <DrawRows rows={setRows} />
        </Suspense>
      )}
      <div className="tools">
        <DrawButton />
        <Tool label={words.zoomOut} icon={Minus} onPress={() => eye.zoom(1 / ZOOM)} />
        <Tool label={words.zoomIn} icon={Plus} onPress={() => eye.zoom(ZOOM)} />
        <Tool label={words.fitSheet} icon={Maximize} onPress={eye.fit} />
      </div>
    </section>
  );
}
