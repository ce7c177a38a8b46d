import { tidy, tidyDegrees } from '../../numeric/tidy.ts';
import { type Placement, placePoint } from '../../pose/place.ts';
import { type LineKind, lineKinds } from '../../sheet/kind.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../../sheet/walk.ts';
import { idOfLine, nameOfLine } from '../drawing/line-name.ts';

interface SvgFacts {
  readonly title?: string;
  /** Length of the longer side of the sheet in mm; the picture has no true size where it is not known. */
  readonly size?: number | null;
}

/** Ink, width and dashes of each kind in thousandths of the sheet: the trade's printed line styles. */
const styles: Readonly<Record<LineKind, { ink: string; width: number; dashes: readonly number[] }>> = {
  edge: { ink: '#1c1c1c', width: 4, dashes: [] },
  cut: { ink: '#1c1c1c', width: 3, dashes: [] },
  valley: { ink: '#8a6100', width: 2, dashes: [12, 6] },
  mountain: { ink: '#7b2d5e', width: 2, dashes: [14, 4, 3, 4, 3, 4] },
  unassigned: { ink: '#4a5a68', width: 2, dashes: [24, 7] },
  flat: { ink: '#4a5a68', width: 1, dashes: [] },
};

/**
 * The crease pattern as SVG at true size: one group per kind and finished angle, its id of our own form, so that
 * reading it back gives the same pattern in the same coordinates.
 */
export function writeSvg(sheet: Sheet, facts: SvgFacts = {}): string {
  const { x, y, scale } = sheet.frame;
  const top = Math.max(...sheet.vertexY);
  const place = (vertex: number) => [
    tidy(x + scale * sheet.vertexX[vertex]!),
    tidy(y + scale * (top - sheet.vertexY[vertex]!)),
  ];
  const layers = new Map<string, { kind: LineKind; lines: string[] }>();
  sheet.creaseKind.forEach((number, crease) => {
    const kind = lineKinds[number]!;
    const angle = sheet.creaseAngle[crease]!;
    const folds = kind === 'mountain' || kind === 'valley' || kind === 'unassigned';
    const name = nameOfLine(kind, folds && !Number.isNaN(angle) ? tidyDegrees(angle) : undefined);
    const layer = layers.get(name) ?? { kind, lines: [] };
    const [x1, y1] = place(sheet.creaseFrom[crease]!);
    const [x2, y2] = place(sheet.creaseTo[crease]!);
    layer.lines.push(`    <line x1="${x1}" y1="${y1}" x2="${x2}" y2="${y2}"/>`);
    layers.set(name, layer);
  });
  const groups = [...layers].map(([name, { kind, lines }]) => {
    const style = styles[kind];
    const thousandths = (value: number) => tidy((value * scale) / 1000);
    const dashes =
      style.dashes.length > 0 ? ` stroke-dasharray="${style.dashes.map(thousandths).join(' ')}"` : '';
    const look = `stroke="${style.ink}" stroke-width="${thousandths(style.width)}"${dashes}`;
    return `  <g id="${idOfLine(name)}" class="${kind}" ${look}>\n${lines.join('\n')}\n  </g>`;
  });
  return svgPage(facts, [x, y, scale * Math.max(...sheet.vertexX), scale * top], scale, groups);
}

/**
 * A pose that lies flat, as SVG: every panel in place, filled with the colour of the side that looks up. Panels are
 * see-through, because the order of layers is not part of a pose.
 * @param colours of the side that faced up at the start, and of the other
 */
export function writeFlatSvg(
  sheet: Sheet,
  placement: Placement,
  colours: { readonly up: string; readonly down: string },
  facts: SvgFacts = {},
): string {
  const { x, y, scale } = sheet.frame;
  const point = new Float64Array(3);
  const panels = sheet.panelRings.map((rings, panel) => ({
    rings: rings.map((ring) =>
      panelRing(sheet, ring).map((half) => {
        const vertex = halfEdgeOrigin(sheet, half);
        placePoint(point, 0, placement, panel, sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
        return [point[0]!, point[1]!] as const;
      }),
    ),
    /** Third coordinate of the panel's normal. */
    facing: 1 - 2 * (placement.rotation[4 * panel]! ** 2 + placement.rotation[4 * panel + 1]! ** 2),
  }));
  const corners = panels.flatMap(({ rings }) => rings.flat());
  const range = (axis: 0 | 1) => {
    const values = corners.map((corner) => corner[axis]);
    return [Math.min(...values), Math.max(...values)] as const;
  };
  const [left, right] = range(0);
  const [bottom, top] = range(1);
  const place = ([px, py]: readonly [number, number]) =>
    `${tidy(x + scale * px)} ${tidy(y + scale * (bottom + top - py))}`;
  const drawn = panels.map(({ rings, facing }) => {
    const d = rings.map((ring) => `M${ring.map(place).join('L')}Z`).join('');
    return `  <path d="${d}" fill="${facing > 0 ? colours.up : colours.down}" fill-opacity="0.6" fill-rule="evenodd"/>`;
  });
  const width = tidy(scale / 500);
  const group = [`  <g stroke="#1c1c1c" stroke-width="${width}">`, ...drawn, '  </g>'].join('\n');
  const box = [x + scale * left, y + scale * bottom, scale * (right - left), scale * (top - bottom)] as const;
  return svgPage(facts, box, scale, [group]);
}

function svgPage(
  facts: SvgFacts,
  [left, top, width, height]: readonly [number, number, number, number],
  scale: number,
  groups: readonly string[],
): string {
  const mm = (length: number) => tidy((length / scale) * facts.size!);
  const size = facts.size ? ` width="${mm(width)}mm" height="${mm(height)}mm"` : '';
  const title = facts.title ? `  <title>${escapeXml(facts.title)}</title>\n` : '';
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg"${size} viewBox="${[left, top, width, height].map(tidy).join(' ')}" overflow="visible" fill="none" stroke-linecap="butt">
${title}${groups.join('\n')}
</svg>
`;
}

function escapeXml(text: string): string {
  const names: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
  // control characters have no place in XML at all
  return Array.from(text, (letter) => (letter < ' ' ? ' ' : (names[letter] ?? letter))).join('');
}
