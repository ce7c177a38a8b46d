import { type Finding, finding } from '../finding/finding.ts';
import type { OrderedPair } from '../layer/asked.ts';
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

/** The same pairs as points of the pattern, ready for the lesson. @param insideOf a flat point inside a panel */
export function ordersAsPoints(
  pairs: readonly OrderedPair[],
  { frame }: Sheet,
  insideOf: (panel: number) => readonly [number, number],
): StepOrder[] {
  const point = (panel: number): readonly [number, number] => {
    const [x, y] = insideOf(panel);
    return [frame.x + frame.scale * x, frame.y + frame.scale * y];
  };
  return pairs.map(([layer, other, side]) => ({
    layer: point(layer),
    side: side > 0 ? 'up' : 'down',
    of: point(other),
  }));
}

function panelAt(sheet: Sheet, [x, y]: readonly [number, number]): number {
  const { frame } = sheet;
  return panelContaining(sheet, (x - frame.x) / frame.scale, (y - frame.y) / frame.scale);
}

function misplaced({ layer, of }: StepOrder, title: string, number: number): Finding {
  const message = `Step ${number} ("${title}") asks for an order of the layers at (${layer.join(', ')}) and (${of.join(', ')}), but these points do not lie in two panels of the sheet: name a point well inside each.`;
  return finding('step-misses', 'warning', message);
}
