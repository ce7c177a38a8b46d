/** The flat sheet: lines in the trade's styles, zoom and pan, pick by pointer and by arrow keys. */

import { Maximize, Minus, Plus } from 'lucide-react';
import {
  type KeyboardEvent,
  lazy,
  type PointerEvent,
  Suspense,
  useEffect,
  useMemo,
  useRef,
  useState,
  useSyncExternalStore,
} from 'react';
import type { Point } from '../../core/numeric/vector.ts';
import { lineKinds } from '../../core/sheet/kind.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import type { Selection } from '../../desk/store.ts';
import { isStroke } from '../../desk/tools/drawing-state.ts';
import { type RingName, ringsNow } from '../../desk/tools/rings.ts';
import { millimetres, words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { accentOn, inkOn, RING } from '../parts/ink.ts';
import { Tool } from '../parts/tool.tsx';
import { DrawButton } from './draw-button.tsx';
import {
  creasePath,
  linePaths,
  panelPath,
  pickOnSheet,
  rimPath,
  sheetBox,
  typicalLength,
  walkFrom,
} from './sheet-drawing.ts';
import './sheet-view.css';

const DrawLayer = lazy(() => import('./draw-layer.tsx'));
const DrawRows = lazy(() => import('./draw-row.tsx'));

/** How near a line the pointer must be, pixels. */
const REACH = 8;
const MOST_ZOOM = 12;
/** Way of a hand that is more than one finger, which draws nothing. */
const SEVERAL_FINGERS = 1e6;
/** A finger that moves points this far above itself, pixels. */
const FINGER = 46;

interface Eye {
  /** Pixels per sheet unit as a multiple of what fits, and the place of the sheet's middle, pixels from the centre. */
  readonly zoom: number;
  readonly x: number;
  readonly y: number;
}

const nothing: readonly number[] = [];
const whole: Eye = { zoom: 1, x: 0, y: 0 };

export function SheetView() {
  const sheet = useDesk((state) => state.document.sheet);
  const lesson = useDesk((state) => state.document.lesson);
  const selection = useDesk((state) => state.look.selection);
  const hover = useDesk((state) => state.look.hover);
  const marks = useDesk((state) => state.look.marks);
  const picked = useDesk(({ look }) => (look.selection?.kind === 'crease' ? look.picked : nothing));
  const rings = useRings();
  const box = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState({ width: 0, height: 0 });
  const [eye, setEye] = useState<Eye>(whole);
  const pointers = useRef(new Map<number, { x: number; y: number }>());
  const moved = useRef(0);
  const strokeFrom = useRef<Point | null>(null);
  const inDrawing = useDesk((state) => state.drawing.on);
  const rows = useRef<HTMLDivElement>(null);
  const [rowsHeight, setRowsHeight] = useState(0);

  useEffect(() => {
    const element = box.current!;
    const watcher = new ResizeObserver(() =>
      setSize({ width: element.clientWidth, height: element.clientHeight }),
    );
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);
  // the sheet keeps clear of the rows; it grows with them but does not shrink back while they stand
  useEffect(() => {
    const element = rows.current;
    if (!inDrawing || !element) {
      setRowsHeight(0);
      return;
    }
    const watcher = new ResizeObserver(() => setRowsHeight((old) => Math.max(old, element.offsetHeight)));
    watcher.observe(element);
    return () => watcher.disconnect();
  }, [inDrawing]);
  const title = lesson?.title;
  useEffect(() => setEye(whole), [title]);

  const drawing = useMemo(
    () =>
      sheet && {
        lines: linePaths(sheet),
        rim: rimPath(sheet),
        box: sheetBox(sheet),
        typical: typicalLength(sheet),
      },
    [sheet],
  );
  const extent = drawing?.box ?? { width: 1, height: 1 };
  // the rows of drawing stand below the sheet
  const high = size.height - rowsHeight;
  const room = { width: Math.max(60, size.width - 72), height: Math.max(60, high - 168) };
  const fit = Math.min(room.width / extent.width, room.height / extent.height);
  const scale = fit * eye.zoom;
  const centre = { x: size.width / 2 + eye.x, y: high / 2 + eye.y - 12 };
  const toPixels = `matrix(${scale} 0 0 ${-scale} ${centre.x - (extent.width / 2) * scale} ${centre.y + (extent.height / 2) * scale})`;
  const toSheet = (x: number, y: number) => ({
    x: (x - centre.x) / scale + extent.width / 2,
    y: -(y - centre.y) / scale + extent.height / 2,
  });

  const zoomAt = (x: number, y: number, factor: number) =>
    setEye((old) => {
      const zoom = Math.min(MOST_ZOOM, Math.max(0.5, old.zoom * factor));
      const part = zoom / old.zoom;
      const [dx, dy] = [x - size.width / 2, y - high / 2 + 12];
      return { zoom, x: dx - (dx - old.x) * part, y: dy - (dy - old.y) * part };
    });

  // React listens to the wheel passively; the page must not scroll under the sheet.
  const zoomer = useRef(zoomAt);
  zoomer.current = zoomAt;
  useEffect(() => {
    const element = box.current!;
    const wheel = (event: WheelEvent) => {
      event.preventDefault();
      const { left, top } = element.getBoundingClientRect();
      zoomer.current(event.clientX - left, event.clientY - top, Math.exp(-event.deltaY * 0.0016));
    };
    element.addEventListener('wheel', wheel, { passive: false });
    return () => element.removeEventListener('wheel', wheel);
  }, []);

  const local = (event: PointerEvent) => {
    const { left, top } = box.current!.getBoundingClientRect();
    return { x: event.clientX - left, y: event.clientY - top };
  };
  const pickAt = (at: { x: number; y: number }): Selection | null => {
    if (!sheet) return null;
    const flat = toSheet(at.x, at.y);
    return pickOnSheet(sheet, flat.x, flat.y, REACH / scale);
  };

  /** The place of the pattern under the hand; a finger points a little above itself, where it can be seen. */
  const placeOf = (event: PointerEvent, lifted = false): Point => {
    const at = local(event);
    const flat = toSheet(at.x, at.y - (lifted && event.pointerType === 'touch' ? FINGER : 0));
    const { frame } = sheet!;
    return [frame.x + frame.scale * flat.x, frame.y + frame.scale * flat.y];
  };
  const pointDraw = (event: PointerEvent, lifted = false) => {
    const reach = ((event.pointerType === 'touch' ? 22 : 11) / scale) * sheet!.frame.scale;
    desk.drawing.hands.point(desk.drawing.hands.now.cursorAt(placeOf(event, lifted), reach));
  };

  const onDown = (event: PointerEvent) => {
    if ((event.target as Element).closest('button')) return;
    if (inDrawing && sheet && isStroke(desk.store.drawing.tool)) strokeFrom.current = placeOf(event);
    box.current!.setPointerCapture(event.pointerId);
    pointers.current.set(event.pointerId, local(event));
    moved.current = pointers.current.size > 1 ? SEVERAL_FINGERS : 0;
  };
  const onMove = (event: PointerEvent) => {
    const at = local(event);
    const held = pointers.current.get(event.pointerId);
    if (inDrawing && sheet && (!held || pointers.current.size === 1)) {
      if (held) moved.current += Math.hypot(at.x - held.x, at.y - held.y);
      if (held) pointers.current.set(event.pointerId, at);
      if (strokeFrom.current && moved.current > 4)
        desk.drawing.hands.stroke(strokeFrom.current, placeOf(event), false);
      else pointDraw(event, moved.current > 8);
      return;
    }
    if (!held) {
      const found = pickAt(at);
      const { hover: old } = desk.store.look;
      if (found?.kind !== old?.kind || found?.id !== old?.id) desk.store.put({ look: { hover: found } });
      return;
    }
    const [dx, dy] = [at.x - held.x, at.y - held.y];
    const others = [...pointers.current].filter(([id]) => id !== event.pointerId).map(([, p]) => p);
    pointers.current.set(event.pointerId, at);
    moved.current += Math.hypot(dx, dy);
    const other = others[0];
    if (other) {
      const before = Math.hypot(held.x - other.x, held.y - other.y);
      const now = Math.hypot(at.x - other.x, at.y - other.y);
      zoomAt((at.x + other.x) / 2, (at.y + other.y) / 2, now / (before || 1));
    }
    if (moved.current > 4)
      setEye((old) => ({ ...old, x: old.x + dx / (other ? 2 : 1), y: old.y + dy / (other ? 2 : 1) }));
  };
  const onUp = (event: PointerEvent) => {
    if (inDrawing && sheet) {
      const ours = pointers.current.delete(event.pointerId) && event.type === 'pointerup';
      const from = strokeFrom.current;
      strokeFrom.current = null;
      if (!ours || pointers.current.size > 0 || moved.current >= SEVERAL_FINGERS) {
        desk.drawing.hands.endStroke();
        return;
      }
      if (from && moved.current > 4) desk.drawing.hands.stroke(from, placeOf(event), true);
      else {
        pointDraw(event, moved.current > 8);
        desk.drawing.hands.press();
      }
      return;
    }
    if (!pointers.current.delete(event.pointerId) || moved.current > 4 || event.type !== 'pointerup') return;
    const found = pickAt(local(event));
    if (event.shiftKey && found?.kind === 'crease') desk.picking.pick(found.id);
    else desk.store.put({ look: { selection: found, picked: [], marks: null } });
  };

  const onKey = (event: KeyboardEvent) => {
    if (!sheet || event.ctrlKey || event.metaKey) return;
    if (inDrawing && keyWhileDrawing(event)) {
      event.preventDefault();
      event.stopPropagation();
      return;
    }
    const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (step) {
      desk.store.put({ look: { selection: walkFrom(sheet, selection, step[0]!, step[1]!), marks: null } });
    } else if ((event.key === 'Home' || event.key === 'End') && selection?.kind === 'crease') {
      const ends = event.key === 'Home' ? sheet.creaseFrom : sheet.creaseTo;
      desk.store.put({ look: { selection: { kind: 'vertex', id: ends[selection.id]! }, marks: null } });
    } else if (event.key === 'Enter' && event.shiftKey && selection?.kind === 'crease') {
      desk.picking.pick(selection.id);
    } else if (event.key === 'Enter' && selection?.kind === 'crease') {
      const side = sheet.halfEdgePanel[2 * selection.id]!;
      desk.store.put({
        look: {
          selection: { kind: 'panel', id: side >= 0 ? side : sheet.halfEdgePanel[2 * selection.id + 1]! },
          marks: null,
        },
      });
    } else if (event.key === 'Enter' && selection?.kind === 'panel') {
      desk.store.put({
        look: { selection: { kind: 'crease', id: sheet.panelRings[selection.id]![0]! >> 1 }, marks: null },
      });
    } else if (event.key === '+' || event.key === '=') zoomAt(size.width / 2, size.height / 2, 1.3);
    else if (event.key === '-') zoomAt(size.width / 2, size.height / 2, 1 / 1.3);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };

  const paper = lesson?.sheet.sides[lesson.sheet.sideUp].colour ?? '#f6f2e8';
  const accent = accentOn([paper]);
  const pen = Math.min(1.35, Math.max(0.4, (drawing ? drawing.typical * scale : 60) / 46));
  const dashes = (list: readonly number[]) => list.map((length) => length * pen).join(' ');
  const marked = (what: Selection | null, strong: boolean) =>
    sheet && what && inSheet(sheet, what) ? (
      <Mark sheet={sheet} what={what} strong={strong} colour={accent} />
    ) : null;

  return (
    <section className="view sheet-view" aria-label={words.sheet}>
      <h2 className="view-name">{words.sheet}</h2>
      <div
        ref={box}
        className="sheet-board"
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys walk the creases
        tabIndex={0}
        aria-label={words.sheetDrawing(lesson?.title ?? '')}
        onPointerDown={onDown}
        onPointerMove={onMove}
        onPointerUp={onUp}
        onPointerCancel={onUp}
        onPointerLeave={() => desk.store.put({ look: { hover: null } })}
        onKeyDown={onKey}
      >
        {drawing && size.width > 0 && (
          <svg className="sheet-ground" width={size.width} height={size.height} aria-hidden="true">
            <path
              className="sheet-paper"
              d={drawing.rim}
              fill={paper}
              stroke={inkOn(paper, 'edge')}
              fillRule="evenodd"
              transform={toPixels}
            />
          </svg>
        )}
        <svg width={size.width} height={size.height} aria-hidden="true" data-testid="sheet-drawing">
          <text className="sheet-width" x={centre.x} y={centre.y + (extent.height / 2) * scale + 26}>
            {lesson && millimetres(lesson.sheet.size * extent.width)}
          </text>
          {sheet && drawing && size.width > 0 && (
            <g transform={toPixels}>
              <clipPath id="sheet-rim">
                <path d={drawing.rim} clipRule="evenodd" />
              </clipPath>
              {marked(hover?.kind === 'vertex' ? null : hover, false)}
              {marked(selection?.kind === 'panel' ? selection : null, true)}
              {lineKinds.map((kind) => (
                <path
                  key={kind}
                  className={`line line-${kind}`}
                  d={drawing.lines[kind]}
                  stroke={inkOn(paper, kind)}
                  // Of a raw edge only the half that lies on the paper is seen.
                  clipPath={kind === 'edge' ? 'url(#sheet-rim)' : undefined}
                  strokeWidth={(kind === 'edge' ? 4.6 : kind === 'flat' ? 0.9 : 1.5) * (0.6 + 0.4 * pen)}
                  strokeDasharray={
                    kind === 'edge' || kind === 'flat' || kind === 'cut' ? undefined : dashes(dashOf[kind])
                  }
                />
              ))}
              {marked(selection?.kind === 'crease' ? selection : null, true)}
              {picked.map((id) => marked({ kind: 'crease', id }, true))}
              {marks?.panels.map((id) => (
                <Mark key={`p${id}`} sheet={sheet} what={{ kind: 'panel', id }} colour={accent} />
              ))}
              {marks?.creases.map((id) => (
                <Mark key={`c${id}`} sheet={sheet} what={{ kind: 'crease', id }} colour={accent} strong />
              ))}
              {inDrawing && (
                <Suspense>
                  <DrawLayer
                    sheet={sheet}
                    scale={scale}
                    styleOf={(kind) => ({
                      stroke: inkOn(paper, kind),
                      strokeDasharray:
                        kind in dashOf ? dashes(dashOf[kind as keyof typeof dashOf]) : undefined,
                    })}
                  />
                </Suspense>
              )}
              {rings.map(([id, name]) => (
                <circle
                  key={`v${id}`}
                  className={name}
                  cx={sheet.vertexX[id]}
                  cy={sheet.vertexY[id]}
                  r={RING / scale}
                  data-mark="vertex"
                />
              ))}
            </g>
          )}
        </svg>
      </div>
      {inDrawing && (
        <Suspense>
          <DrawRows rows={rows} />
        </Suspense>
      )}
      <div className="tools">
        <DrawButton />
        <Tool
          label={words.zoomOut}
          icon={Minus}
          onPress={() => zoomAt(size.width / 2, size.height / 2, 1 / 1.4)}
        />
        <Tool label={words.zoomIn} icon={Plus} onPress={() => zoomAt(size.width / 2, size.height / 2, 1.4)} />
        <Tool label={words.fitSheet} icon={Maximize} onPress={() => setEye(whole)} />
      </div>
    </section>
  );
}

/** Keys on the sheet while drawing. @returns whether the key did anything */
function keyWhileDrawing(event: KeyboardEvent): boolean {
  const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
  if (step) desk.drawing.hands.walk(step[0]!, step[1]!);
  else if (event.key === 'Enter') desk.drawing.hands.press();
  else if (event.key === 'Tab' && desk.store.drawing.choice !== null)
    desk.drawing.hands.nextAnswer(event.shiftKey ? -1 : 1);
  else return desk.commands.press(event.key, false);
  return true;
}

/** Corners of the lesson's own sheet that are ringed, kept up to date with the slider. */
function useRings(): [number, RingName][] {
  const own = useDesk((state) => state.document.sheet?.vertexX.length ?? 0);
  const key = useSyncExternalStore(hearRings, () =>
    JSON.stringify([...ringsNow(desk.store, desk.playhead)].filter(([vertex]) => vertex < own)),
  );
  return useMemo(() => JSON.parse(key), [key]);
}

function hearRings(tell: () => void): () => void {
  const stops = [desk.playhead.subscribe(tell), desk.store.subscribe(tell)];
  return () => {
    for (const stop of stops) stop();
  };
}

/** Dash styles in pixels, as printed diagrams have them. */
const dashOf = {
  mountain: [13, 3.6, 2, 3.6, 2, 3.6],
  valley: [8.5, 5],
  unassigned: [17, 5],
} as const;

function inSheet(sheet: Sheet, { kind, id }: Selection): boolean {
  return (
    id <
    (kind === 'panel'
      ? sheet.panelRings.length
      : kind === 'crease'
        ? sheet.creaseKind.length
        : sheet.vertexX.length)
  );
}

function Mark({
  sheet,
  what,
  strong = false,
  colour,
}: {
  sheet: Sheet;
  what: Selection;
  strong?: boolean;
  colour: string;
}) {
  if (what.kind === 'crease')
    return (
      <path
        className="mark-line"
        d={creasePath(sheet, what.id)}
        stroke={colour}
        strokeWidth={strong ? 5 : 4}
        strokeOpacity={strong ? 0.95 : 0.4}
        data-mark={strong ? 'crease' : undefined}
      />
    );
  return (
    <path
      d={panelPath(sheet, what.id)}
      fill={colour}
      fillOpacity={strong ? 0.26 : 0.09}
      fillRule="evenodd"
      data-mark={strong ? 'panel' : undefined}
    />
  );
}
