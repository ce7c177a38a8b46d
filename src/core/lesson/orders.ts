import { type Finding, finding } from '../finding/finding.ts';
import type { AskedHere } from '../layer/asked.ts';
import type { Difference } from '../layer/choices.ts';
import { inPattern, onSheet } from '../sheet/frame.ts';
import { NONE, type Sheet } from '../sheet/sheet.ts';
import { panelContaining } from '../sheet/walk.ts';
import type { Step, StepOrder } from './lesson.ts';

/** The stackings a step (counted from 0) asks for, as pairs of panels with the places that name them; an order with a point beside the sheet is an error, since nothing is known of it. */
export function ordersOfStep(
  { orders = [], title }: Pick<Step, 'orders' | 'title'>,
  number: number,
  sheet: Sheet,
): { asked: AskedHere[]; findings: Finding[] } {
  const asked: AskedHere[] = [];
  const findings: Finding[] = [];
  for (const order of orders) {
    const [layer, other] = [panelAt(sheet, order.layer), panelAt(sheet, order.of)];
    if (layer !== NONE && other !== NONE && layer !== other)
      asked.push({
        order: [layer, other, order.side === 'up' ? 1 : -1],
        at: [onSheet(sheet, order.layer), onSheet(sheet, order.of)],
      });
    else findings.push(misplaced(order, title, number));
  }
  return { asked, findings };
}

/** What tells a stacking from others, as points of the pattern in the areas concerned, ready for the lesson. */
export function ordersAsPoints(told: readonly Pick<Difference, 'pair' | 'at'>[], sheet: Sheet): StepOrder[] {
  return told.map(({ pair: [, , side], at: [layer, of] }) => ({
    layer: inPattern(sheet, layer),
    side: side > 0 ? 'up' : 'down',
    of: inPattern(sheet, of),
  }));
}

const panelAt = (sheet: Sheet, place: readonly [number, number]): number =>
  panelContaining(sheet, ...onSheet(sheet, place));

function misplaced({ layer, of }: StepOrder, title: string, number: number): Finding {
  return finding('step-misses', 'error', { how: 'order', step: { number, title }, layer, of });
}
