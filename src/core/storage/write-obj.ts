import { tidy } from '../numeric/tidy.ts';
import { type Placement, vertexPositions } from '../pose/place.ts';
import { meshOfPanel } from '../sheet/panel-mesh.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { halfEdgeOrigin, panelRing } from '../sheet/walk.ts';

/**
 * A pose as OBJ: one polygon a panel, its front the side that faced up at the start; panels with holes as triangles.
 * Coordinates in the input's unit, z toward the viewer.
 */
export function writeObj(sheet: Sheet, placement: Placement, title = 'sheet'): string {
  const { x, y, scale } = sheet.frame;
  const positions = vertexPositions(sheet, placement);
  const lines = [
    '# Written by Creaseway; x right, y up, z toward the viewer',
    `o ${title.replace(/\s+/g, ' ')}`,
  ];
  for (let v = 0; v < sheet.vertexX.length; v++) {
    const at = [
      x + scale * positions[3 * v]!,
      y + scale * positions[3 * v + 1]!,
      scale * positions[3 * v + 2]!,
    ];
    lines.push(`v ${at.map(tidy).join(' ')}`);
  }
  sheet.panelRings.forEach((rings, panel) => {
    lines.push(`g panel-${panel}`);
    if (rings.length === 1) {
      const corners = panelRing(sheet, rings[0]!).map((half) => halfEdgeOrigin(sheet, half) + 1);
      lines.push(`f ${corners.join(' ')}`);
      return;
    }
    const { corners, triangles } = meshOfPanel(sheet, panel);
    for (let i = 0; i < triangles.length; i += 3) {
      lines.push(
        `f ${triangles
          .slice(i, i + 3)
          .map((corner) => corners[corner]! + 1)
          .join(' ')}`,
      );
    }
  });
  return `${lines.join('\n')}\n`;
}
