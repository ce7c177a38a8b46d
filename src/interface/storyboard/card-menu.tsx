/** Adding steps, and what can be done to one: by menu, by dragging its card, by keys. */

import { Ellipsis, Plus } from 'lucide-react';
import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components';
import type { StepKind } from '../../core/lesson/lesson.ts';
import { stepInto } from '../../desk/play/playhead.ts';
import { stepKindWords, words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import './card-menu.css';

/** A card is dragged once the pointer has gone this far, pixels. */
const DRAG_FROM = 10;

/** Ways to do the same again elsewhere. */
const repeats = [
  { key: 'mirror', name: words.repeatMirrored, of: 'left-right' },
  { key: 'ends', name: words.repeatEnds, of: 'up-down' },
  { key: 'turn', name: words.repeatTurned, of: 'half-turn' },
] as const;

export function AddStep() {
  const count = useDesk((state) => state.document.lesson?.steps.length);
  if (count === undefined) return null;
  return (
    <MenuTrigger>
      <Button className="text-button add-step">
        <Plus size={15} strokeWidth={1.9} aria-hidden="true" />
        {words.addStep}
      </Button>
      <Popover className="popover" placement="top start">
        <Menu
          className="menu"
          aria-label={words.addStep}
          onAction={(kind) => desk.steps.add(stepInto(desk.playhead.place), kind as StepKind)}
        >
          {Object.entries(stepKindWords).map(([kind, name]) => (
            <MenuItem key={kind} id={kind} className="menu-item">
              {name}
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}

export function CardMenu({ index }: { index: number }) {
  const title = useDesk((state) => state.document.lesson?.steps[index]?.title ?? '');
  const off = useDesk((state) => state.document.lesson?.steps[index]?.off ?? false);
  const count = useDesk((state) => state.document.lesson?.steps.length ?? 0);
  const kept = useDesk((state) => state.document.lesson?.steps[index]?.look !== undefined);
  const splits = useDesk((state) => state.run.steps[index]?.status === 'ready');
  const items: [string, string, () => void, boolean?][] = [
    ['duplicate', words.duplicateStep, () => desk.steps.duplicate(index)],
    ['split', words.splitStep, () => desk.steps.split(index), !splits],
    ['join', words.joinStep, () => desk.steps.joinWithNext(index), index + 1 >= count],
    ['left', words.moveLeft, () => desk.steps.move(index, index - 1), index === 0],
    ['right', words.moveRight, () => desk.steps.move(index, index + 1), index + 1 >= count],
    ['look', kept ? words.forgetLook : words.keepLook, () => desk.steps.keepLook(index)],
    ...repeats.map(({ key, name, of }): [string, string, () => void] => [
      key,
      name,
      () => desk.steps.repeat(index, of),
    ]),
    ['off', off ? words.stepOn : words.stepOff, () => desk.steps.toggleOff(index)],
    ['remove', words.removeStep, () => desk.steps.remove(index)],
  ];
  return (
    <MenuTrigger>
      <Button className="card-menu" aria-label={words.changeStep(title)}>
        <Ellipsis size={16} strokeWidth={1.9} aria-hidden="true" />
      </Button>
      <Popover className="popover" placement="top end">
        <Menu
          className="menu"
          aria-label={words.changeStep(title)}
          disabledKeys={items.filter(([, , , disabled]) => disabled).map(([key]) => key)}
          onAction={(key) => items.find(([id]) => id === key)?.[2]()}
        >
          {items.map(([key, name]) => (
            <MenuItem key={key} id={key} className="menu-item">
              {name}
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}

/** Dragging a card along the strip moves its step; Alt with an arrow does the same. */
export function useCardDrag(index: number) {
  const start = useRef<{ x: number; moved: boolean } | null>(null);
  const wasDragged = useRef(false);
  const cards = (element: HTMLElement) =>
    [...(element.parentElement?.querySelectorAll<HTMLElement>('[data-step]') ?? [])].filter(
      (card) => card !== element,
    );
  const down = (event: PointerEvent<HTMLElement>) => {
    wasDragged.current = false;
    if (event.isPrimary && event.button === 0 && event.pointerType !== 'touch')
      start.current = { x: event.clientX, moved: false };
  };
  const move = (event: PointerEvent<HTMLElement>) => {
    const held = start.current;
    if (!held) return;
    const by = event.clientX - held.x;
    if (!held.moved && Math.abs(by) < DRAG_FROM) return;
    held.moved = true;
    wasDragged.current = true;
    event.currentTarget.style.transform = `translateX(${by}px)`;
    event.currentTarget.dataset.dragged = 'true';
  };
  const drop = (event: PointerEvent<HTMLElement>) => {
    const held = start.current;
    start.current = null;
    const element = event.currentTarget;
    element.style.transform = '';
    delete element.dataset.dragged;
    if (!held?.moved || event.type === 'pointercancel') return;
    const before = cards(element).filter((card) => {
      const { left, width } = card.getBoundingClientRect();
      return left + width / 2 < event.clientX;
    });
    desk.steps.move(index, before.length);
  };
  const key = (event: KeyboardEvent<HTMLElement>) => {
    if (!event.altKey || (event.key !== 'ArrowLeft' && event.key !== 'ArrowRight')) return;
    event.preventDefault();
    event.stopPropagation();
    const to = index + (event.key === 'ArrowLeft' ? -1 : 1);
    const strip = event.currentTarget.parentElement;
    desk.steps.move(index, to);
    // the focus stays with the step that was moved
    requestAnimationFrame(() => strip?.querySelector<HTMLElement>(`[data-step="${to}"] .card`)?.focus());
  };
  return {
    handlers: {
      onPointerDownCapture: down,
      onPointerMoveCapture: move,
      onPointerUpCapture: drop,
      onPointerCancelCapture: drop,
      onPointerLeave: (event: PointerEvent<HTMLElement>) => {
        if (start.current && !start.current.moved) start.current = null;
        else if (start.current) drop(event);
      },
      onKeyDownCapture: key,
    },
    dragged: () => wasDragged.current,
  };
}
