import { type Finding, finding } from '../finding/finding.ts';
import type { OrderedPair } from '../layer/asked.ts';
import { inPattern, onSheet } from '../sheet/frame.ts';
import { insidePoint } from '../sheet/inside-point.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { panelContaining } from '../sheet/walk.ts';
import type { Step, StepOrder } from './lesson.ts';

/** The stackings a step asks for, as pairs of panels; an order with a point beside the sheet is a warning. */
export function ordersOfStep(
  { orders = [], title }: Pick<Step, 'orders' | 'title'>,
  number: number,
  sheet: Sheet,
): { asked: OrderedPair[]; findings: Finding[] } {
  const asked: OrderedPair[] = [];
  const findings: Finding[] = [];
  for (const order of orders) {
    const [layer, other] = [panelAt(sheet, order.layer), panelAt(sheet, order.of)];
    if (layer !== NONE && other !== NONE && layer !== other)
      asked.push([layer, other, order.side === 'up' ? 1 : -1]);
    else findings.push(misplaced(order, title, number));
  }
  return { asked, findings };
}

/** The same pairs as points of the pattern well inside their panels, ready for the lesson. */
export function ordersAsPoints(pairs: readonly OrderedPair[], sheet: Sheet): StepOrder[] {
  const point = (panel: number) => inPattern(sheet, insidePoint(sheet, panel));
  return pairs.map(([layer, other, side]) => ({
    layer: point(layer),
    side: side > 0 ? 'up' : 'down',
    of: point(other),
  }));
}

const panelAt = (sheet: Sheet, place: readonly [number, number]): number =>
  panelContaining(sheet, ...onSheet(sheet, place));

function misplaced({ layer, of }: StepOrder, title: string, number: number): Finding {
  const message = `Step ${number} ("${title}") asks for an order of the layers at (${layer.join(', ')}) and (${of.join(', ')}), but these points do not lie in two panels of the sheet: name a point well inside each.`;
  return finding('step-misses', 'warning', message);
}
