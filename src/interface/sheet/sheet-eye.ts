/** How the flat sheet is looked at: fitted to its room, and from there zoomed and moved by hand. */
import { type RefObject, useEffect, useLayoutEffect, useRef, useState } from 'react';

const MOST_ZOOM = 12;
const LEAST_ZOOM = 0.5;
/** Room round the sheet, for its name and the tools, pixels; above it less where rows take theirs below. */
const BESIDE = 72;
const ABOVE = 72;
const ABOVE_WITH_ROWS = 58;
const BELOW = 96;
const LEAST_ROOM = 60;

export interface Pixels {
  readonly x: number;
  readonly y: number;
}

interface Box {
  readonly width: number;
  readonly height: number;
}

export interface SheetEye {
  /** Of the board, pixels. */
  readonly size: Box;
  /** Pixels per sheet unit. */
  readonly scale: number;
  /** Where the middle of the sheet lies on the board. */
  readonly centre: Pixels;
  /** The transform of an svg group in sheet coordinates. */
  readonly toPixels: string;
  readonly toSheet: (at: Pixels) => Pixels;
  readonly zoomAt: (at: Pixels, factor: number) => void;
  /** Zooms about the middle of the board. */
  readonly zoom: (factor: number) => void;
  readonly moveBy: (dx: number, dy: number) => void;
  readonly fit: () => void;
}

interface Wish {
  /** As a multiple of what fits. */
  readonly zoom: number;
  /** From where the fitted sheet has its middle, pixels. */
  readonly x: number;
  readonly y: number;
}

const whole: Wish = { zoom: 1, x: 0, y: 0 };

/**
 * @param extent of the sheet, sheet units
 * @param below height that the sheet keeps clear of, pixels
 * @param title of the lesson; another one is looked at anew
 */
export function useSheetEye(
  board: RefObject<HTMLDivElement | null>,
  extent: Box,
  below: number,
  title: string | undefined,
): SheetEye {
  const size = useSizeOf(board);
  const [wish, setWish] = useState<Wish>(whole);
  const fit = () => setWish(whole);
  useEffect(fit, [title]);
  const above = below > 0 ? ABOVE_WITH_ROWS : ABOVE;
  const room = {
    width: Math.max(LEAST_ROOM, size.width - BESIDE),
    height: Math.max(LEAST_ROOM, size.height - below - above - BELOW),
  };
  const scale = Math.min(room.width / extent.width, room.height / extent.height) * wish.zoom;
  const middle = { x: size.width / 2, y: above + room.height / 2 };
  const centre = { x: middle.x + wish.x, y: middle.y + wish.y };
  const [left, bottom] = [centre.x - (extent.width / 2) * scale, centre.y + (extent.height / 2) * scale];
  const zoomAt = (at: Pixels, factor: number) =>
    setWish((old) => {
      const zoom = Math.min(MOST_ZOOM, Math.max(LEAST_ZOOM, old.zoom * factor));
      const part = zoom / old.zoom;
      const [dx, dy] = [at.x - middle.x, at.y - middle.y];
      return { zoom, x: dx - (dx - old.x) * part, y: dy - (dy - old.y) * part };
    });
  useWheel(board, zoomAt);
  return {
    ...{ size, scale, centre, zoomAt, fit },
    toPixels: `matrix(${scale} 0 0 ${-scale} ${left} ${bottom})`,
    toSheet: ({ x, y }) => ({ x: (x - left) / scale, y: (bottom - y) / scale }),
    zoom: (factor) => zoomAt({ x: size.width / 2, y: size.height / 2 }, factor),
    moveBy: (dx, dy) => setWish((old) => ({ ...old, x: old.x + dx, y: old.y + dy })),
  };
}

function useSizeOf(element: RefObject<HTMLElement | null>): Box {
  const [size, setSize] = useState({ width: 0, height: 0 });
  useEffect(() => {
    const { current } = element;
    if (!current) return;
    const watcher = new ResizeObserver(() =>
      setSize({ width: current.clientWidth, height: current.clientHeight }),
    );
    watcher.observe(current);
    return () => watcher.disconnect();
  }, [element]);
  return size;
}

/** React listens to the wheel passively; the page must not scroll under the sheet. */
function useWheel(board: RefObject<HTMLElement | null>, zoomAt: SheetEye['zoomAt']): void {
  const zoomer = useRef(zoomAt);
  zoomer.current = zoomAt;
  useEffect(() => {
    const { current } = board;
    if (!current) return;
    const wheel = (event: WheelEvent) => {
      event.preventDefault();
      const { left, top } = current.getBoundingClientRect();
      zoomer.current({ x: event.clientX - left, y: event.clientY - top }, Math.exp(-event.deltaY * 0.0016));
    };
    current.addEventListener('wheel', wheel, { passive: false });
    return () => current.removeEventListener('wheel', wheel);
  }, [board]);
}

/** Rows may grow by so much without covering the sheet, pixels. */
const SPARE = 26;

/** Height that is left to rows over the board: as they come, for while they stand nothing may move under the pointer. */
export function useRowsHeight(rows: HTMLElement | null): number {
  const [height, setHeight] = useState(0);
  useLayoutEffect(() => setHeight(rows ? rows.offsetHeight + SPARE : 0), [rows]);
  return height;
}
