/** The flat sheet as it is printed: paper, lines in the trade's styles, and under them what is marked. */
import { lazy, Suspense, useMemo, useSyncExternalStore } from 'react';
import { type LineKind, lineKinds } from '../../core/sheet/kind.ts';
import type { Sheet } from '../../core/sheet/sheet.ts';
import type { Selection } from '../../desk/store.ts';
import { type RingName, ringsNow } from '../../desk/tools/rings.ts';
import { millimetres } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { accentOn, inkOn, RING } from '../parts/ink.ts';
import { creasePath, linePaths, panelPath, rimPath, sheetBox, typicalLength } from './sheet-drawing.ts';
import type { SheetEye } from './sheet-eye.ts';

const DrawLayer = lazy(() => import('./draw-layer.tsx'));

/** Dash styles in pixels, as printed diagrams have them. */
const dashOf: Partial<Record<LineKind, readonly number[]>> = {
  mountain: [13, 3.6, 2, 3.6, 2, 3.6],
  valley: [8.5, 5],
  unassigned: [17, 5],
};
/** Widths of lines, pixels. */
const WIDTH = 1.5;
const widthOf: Partial<Record<LineKind, number>> = { edge: 4.6, flat: 0.9 };
/** Lines are drawn as they are where creases are this long, pixels; with shorter ones the pen is finer. */
const USUAL_LENGTH = 46;
const NO_PAPER = '#f6f2e8';
/** Width of a halo under a line, and of what within it is pale, on which the line keeps its dash and ink, pixels. */
const HALO = 12;
const HALO_WITHIN = 9;

interface DrawnSheet {
  readonly sheet: Sheet;
  readonly lines: Readonly<Record<LineKind, string>>;
  readonly rim: string;
  readonly box: { readonly width: number; readonly height: number };
  /** Of the creases, sheet units. */
  readonly typical: number;
}

export function useDrawnSheet(sheet: Sheet | null): DrawnSheet | null {
  return useMemo(
    () =>
      sheet && {
        sheet,
        lines: linePaths(sheet),
        rim: rimPath(sheet),
        box: sheetBox(sheet),
        typical: typicalLength(sheet),
      },
    [sheet],
  );
}

export function SheetPicture({ drawn, eye }: { drawn: DrawnSheet | null; eye: SheetEye }) {
  const { size, centre, scale } = eye;
  const paper = usePaper();
  const length = useDesk((state) => state.document.lesson?.sheet.size);
  const shown = drawn && size.width > 0 ? drawn : null;
  return (
    <>
      {shown && (
        <svg className="sheet-ground" width={size.width} height={size.height} aria-hidden="true">
          <path
            className="sheet-paper"
            d={shown.rim}
            fill={paper}
            stroke={inkOn(paper, 'edge')}
            fillRule="evenodd"
            transform={eye.toPixels}
          />
        </svg>
      )}
      <svg width={size.width} height={size.height} aria-hidden="true" data-testid="sheet-drawing">
        {drawn && length !== undefined && (
          <text className="sheet-width" x={centre.x} y={centre.y + (drawn.box.height / 2) * scale + 26}>
            {millimetres(length * drawn.box.width)}
          </text>
        )}
        {shown && (
          <g transform={eye.toPixels}>
            <Marks sheet={shown.sheet} />
            <Lines drawn={shown} scale={scale} />
            <Rings sheet={shown.sheet} scale={scale} />
          </g>
        )}
      </svg>
    </>
  );
}

const usePaper = () =>
  useDesk(({ document: { lesson } }) => lesson?.sheet.sides[lesson.sheet.sideUp].colour ?? NO_PAPER);

function Lines({ drawn, scale }: { drawn: DrawnSheet; scale: number }) {
  const paper = usePaper();
  const inDrawing = useDesk((state) => state.drawing.on);
  const pen = Math.min(1.35, Math.max(0.4, (drawn.typical * scale) / USUAL_LENGTH));
  const styleOf = (kind: LineKind) => ({
    stroke: inkOn(paper, kind),
    strokeDasharray: dashOf[kind]?.map((one) => one * pen).join(' '),
  });
  return (
    <>
      <clipPath id="sheet-rim">
        <path d={drawn.rim} clipRule="evenodd" />
      </clipPath>
      {lineKinds.map((kind) => (
        <path
          key={kind}
          className={`line line-${kind}`}
          d={drawn.lines[kind]}
          // Of a raw edge only the half that lies on the paper is seen.
          clipPath={kind === 'edge' ? 'url(#sheet-rim)' : undefined}
          strokeWidth={(widthOf[kind] ?? WIDTH) * (0.6 + 0.4 * pen)}
          {...styleOf(kind)}
        />
      ))}
      {inDrawing && (
        <Suspense>
          <DrawLayer sheet={drawn.sheet} scale={scale} styleOf={styleOf} />
        </Suspense>
      )}
    </>
  );
}

const nothing: readonly number[] = [];

/** What is pointed at, selected, picked, and named by a finding. */
function Marks({ sheet }: { sheet: Sheet }) {
  const { selection, hover, marks } = useDesk((state) => state.look);
  const picked = useDesk(({ look }) => (look.selection?.kind === 'crease' ? look.picked : nothing));
  const accent = accentOn([usePaper()]);
  const idsOf = (what: Selection | null, kind: Selection['kind']) => (what?.kind === kind ? [what.id] : []);
  const chosen = [...idsOf(selection, 'crease'), ...picked, ...(marks?.creases ?? [])];
  const panels = [...idsOf(selection, 'panel'), ...(marks?.panels ?? [])];
  return (
    <>
      <PanelMark sheet={sheet} panels={idsOf(hover, 'panel')} colour={accent} />
      <PanelMark sheet={sheet} panels={panels} colour={accent} strong />
      <Halo sheet={sheet} creases={idsOf(hover, 'crease')} colour={accent} />
      <Halo sheet={sheet} creases={chosen} colour={accent} strong />
    </>
  );
}

interface Marked {
  readonly sheet: Sheet;
  readonly colour: string;
  readonly strong?: boolean;
}

/** A line that is marked keeps its dash and ink, on a strip of its own paper with a rim of colour. */
function Halo({ sheet, creases, colour, strong = false }: Marked & { creases: readonly number[] }) {
  const paper = usePaper();
  const path = [...new Set(creases)]
    .filter((crease) => crease < sheet.creaseKind.length)
    .map((crease) => creasePath(sheet, crease))
    .join('');
  if (!path) return null;
  return (
    <>
      <path
        className="mark-line"
        d={path}
        stroke={colour}
        strokeWidth={HALO}
        strokeOpacity={strong ? 0.9 : 0.3}
        data-mark={strong ? 'crease' : undefined}
      />
      <path
        className="mark-line"
        d={path}
        stroke={`color-mix(in srgb, ${colour} ${strong ? 16 : 8}%, ${paper})`}
        strokeWidth={HALO_WITHIN}
      />
    </>
  );
}

function PanelMark({ sheet, panels, colour, strong = false }: Marked & { panels: readonly number[] }) {
  const path = [...new Set(panels)]
    .filter((panel) => panel < sheet.panelRings.length)
    .map((panel) => panelPath(sheet, panel))
    .join('');
  if (!path) return null;
  return (
    <path
      d={path}
      fill={colour}
      fillOpacity={strong ? 0.26 : 0.09}
      fillRule="evenodd"
      data-mark={strong ? 'panel' : undefined}
    />
  );
}

/** Corners of the lesson's own sheet that are ringed, kept up to date with the slider. */
function Rings({ sheet, scale }: { sheet: Sheet; scale: number }) {
  const own = useDesk((state) => state.document.sheet?.vertexX.length ?? 0);
  const key = useSyncExternalStore(hearRings, () =>
    JSON.stringify([...ringsNow(desk.store, desk.playhead)].filter(([vertex]) => vertex < own)),
  );
  const rings = useMemo((): [number, RingName][] => JSON.parse(key), [key]);
  return rings.map(([id, name]) => (
    <circle
      key={id}
      className={name}
      cx={sheet.vertexX[id]}
      cy={sheet.vertexY[id]}
      r={RING / scale}
      data-mark="vertex"
    />
  ));
}

function hearRings(tell: () => void): () => void {
  const stops = [desk.playhead.subscribe(tell), desk.store.subscribe(tell)];
  return () => {
    for (const stop of stops) stop();
  };
}
