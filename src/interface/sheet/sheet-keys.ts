/** Keys on the flat sheet: they walk among lines and panels, pick, and zoom; while drawing they go to the tool. */
import type { KeyboardEvent } from 'react';
import type { Sheet } from '../../core/sheet/sheet.ts';
import type { Selection } from '../../desk/store.ts';
import { desk } from '../desk.ts';
import { leapFrom, walkFrom } from './sheet-drawing.ts';
import type { SheetEye } from './sheet-eye.ts';

const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
const ZOOM = 1.3;

export function onSheetKey(event: KeyboardEvent, sheet: Sheet | null, eye: SheetEye): void {
  if (!sheet || event.ctrlKey || event.metaKey) return;
  const taken = (desk.store.drawing.on && whileDrawing(event)) || walks(event, sheet) || zooms(event, eye);
  if (!taken) return;
  event.preventDefault();
  event.stopPropagation();
}

/** @returns whether the key did anything */
function whileDrawing({ key, shiftKey }: KeyboardEvent): boolean {
  const { hands } = desk.drawing;
  const step = arrows[key];
  if (step) hands.walk(...step);
  else if (key === 'Enter') hands.press();
  else if (key === 'Tab' && desk.store.drawing.choice !== null) hands.nextAnswer(shiftKey ? -1 : 1);
  else return desk.commands.press(key, false);
  return true;
}

function walks({ key, shiftKey }: KeyboardEvent, sheet: Sheet): boolean {
  const { selection } = desk.store.look;
  if (key === 'Enter' && shiftKey && selection?.kind === 'crease') {
    desk.picking.pick(selection.id);
    return true;
  }
  const next = nextOf(key, shiftKey, sheet, selection);
  if (next) desk.store.put({ look: { selection: next, marks: null } });
  return next !== null;
}

/** Arrows go to the next line or panel, with Shift a good part of the sheet; Home and End to the ends of a crease. */
function nextOf(key: string, far: boolean, sheet: Sheet, selection: Selection | null): Selection | null {
  const step = arrows[key];
  if (step) return far ? leapFrom(sheet, selection, ...step) : walkFrom(sheet, selection, ...step);
  if (selection?.kind === 'crease') {
    if (key === 'Home' || key === 'End')
      return { kind: 'vertex', id: (key === 'Home' ? sheet.creaseFrom : sheet.creaseTo)[selection.id]! };
    if (key === 'Enter') return panelBeside(sheet, selection.id);
  }
  if (key === 'Enter' && selection?.kind === 'panel')
    return { kind: 'crease', id: sheet.panelRings[selection.id]![0]! >> 1 };
  return null;
}

function panelBeside(sheet: Sheet, crease: number): Selection {
  const left = sheet.halfEdgePanel[2 * crease]!;
  return { kind: 'panel', id: left >= 0 ? left : sheet.halfEdgePanel[2 * crease + 1]! };
}

function zooms({ key }: KeyboardEvent, eye: SheetEye): boolean {
  if (key === '+' || key === '=') eye.zoom(ZOOM);
  else if (key === '-') eye.zoom(1 / ZOOM);
  else return false;
  return true;
}
