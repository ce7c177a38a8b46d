import { drawnPaper } from '../core/drawn/drawn-pose.ts';
import { usualThickness } from '../core/lesson/lesson.ts';
import { placePanels } from '../core/pose/place.ts';
import type { Sheet } from '../core/sheet/sheet.ts';
import { writeDxf } from '../core/storage/dxf/write.ts';
import { writeLesson } from '../core/storage/lesson/write.ts';
import { writeSvg } from '../core/storage/svg/write.ts';
import { writeFold } from '../core/storage/write-fold.ts';
import { writeGlb } from '../core/storage/write-glb.ts';
import { writeObj } from '../core/storage/write-obj.ts';
import type { Request } from './protocol.ts';

/** Writes a file of the asked format. */
export function writeFile(request: Extract<Request, { kind: 'write' }>): { bytes: Uint8Array; type: string } {
  const { format, lesson, sheet, angle, still, pictures, drawn = asPlaced(request.sheet) } = request;
  const { title } = lesson;
  const { size, sizeAssumed, sides, sideUp, thickness = usualThickness } = lesson.sheet;
  const text = (content: string, type: string) => ({ bytes: new TextEncoder().encode(content), type });
  const placement = () => placePanels(sheet, angle, still);
  switch (format) {
    case 'lesson':
      return text(writeLesson(lesson, pictures), 'application/json');
    case 'fold': {
      // in mm, so that the size of the sheet comes back with it
      const measured = { ...sheet, frame: { x: 0, y: 0, scale: size } };
      const facts = { title, millimetres: sizeAssumed ? null : 1 };
      return text(writeFold(measured, facts, { angle, placement: placement() }), 'application/json');
    }
    case 'svg':
      return text(writeSvg(sheet, { title, size }), 'image/svg+xml');
    case 'dxf':
      return text(writeDxf(sheet, sizeAssumed ? null : size), 'image/vnd.dxf');
    case 'obj':
      return text(writeObj(sheet, placement(), title), 'model/obj');
    case 'glb': {
      const [up, down] = sideUp === 'a' ? [sides.a, sides.b] : [sides.b, sides.a];
      const facts = { size, thickness, up: up.colour, down: down.colour };
      return {
        bytes: writeGlb(drawnPaper(sheet, placement(), drawn, drawn.order), facts),
        type: 'model/gltf-binary',
      };
    }
  }
}

/** Panels as they are placed, of whose layers nothing is known. */
const asPlaced = ({ panelRings }: Sheet) => ({
  levels: new Float32Array(panelRings.length),
  aside: null,
  order: [],
});
