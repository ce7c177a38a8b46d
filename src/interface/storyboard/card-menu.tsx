/** Adding steps, and what can be done to one: by menu, by dragging its card, by keys. */

import { Ellipsis, Plus } from 'lucide-react';
import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import type { StepKind } from '../../core/lesson/lesson.ts';
import { stepInto } from '../../desk/play/playhead.ts';
import { stepKindWords, words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { isRightToLeft } from '../language.ts';
import type { MenuEntry } from '../parts/menu.ts';
import { MenuButton } from '../parts/menu-button.tsx';
import './card-menu.css';

/** A card is dragged once the pointer has gone this far, pixels. */
const DRAG_FROM = 10;

/** Ways to do the same again elsewhere. */
const repeats = [
  { key: 'mirror', name: 'repeatMirrored', of: 'left-right' },
  { key: 'ends', name: 'repeatEnds', of: 'up-down' },
  { key: 'turn', name: 'repeatTurned', of: 'half-turn' },
] as const;

export function AddStep() {
  const count = useDesk((state) => state.document.lesson?.steps.length);
  if (count === undefined) return null;
  return (
    <MenuButton
      className="text-button add-step"
      menu={() => ({
        ...{ label: words.addStep, placement: 'top start' },
        parts: [{ entries: Object.entries(stepKindWords).map(([id, name]) => ({ id, name })) }],
        onChoose: (kind) => desk.steps.add(stepInto(desk.playhead.place), kind as StepKind),
      })}
    >
      <Plus size={15} strokeWidth={1.9} aria-hidden="true" />
      {words.addStep}
    </MenuButton>
  );
}

export function CardMenu({ index }: { index: number }) {
  const title = useDesk((state) => state.document.lesson?.steps[index]?.title ?? '');
  const label = words.changeStep(title);
  return (
    <MenuButton
      className="card-menu"
      name={label}
      menu={() => {
        const deeds = deedsFor(index);
        return {
          ...{ label, placement: 'top end', parts: [{ entries: deeds }] },
          onChoose: (id) => deeds.find((one) => one.id === id)?.run(),
        };
      }}
    >
      <Ellipsis size={16} strokeWidth={1.9} aria-hidden="true" />
    </MenuButton>
  );
}

/** What can be done to a step. */
function deedsFor(index: number): (MenuEntry & { readonly run: () => void })[] {
  const { steps } = desk;
  const all = desk.store.document.lesson?.steps ?? [];
  const { off, look } = all[index] ?? {};
  const last = index + 1 >= all.length;
  const isReady = desk.store.run.steps[index]?.status === 'ready';
  const deed = (id: string, name: string, run: () => void, isDisabled = false) => ({
    id,
    name,
    run,
    isDisabled,
  });
  return [
    deed('duplicate', words.duplicateStep, () => steps.duplicate(index)),
    deed('split', words.splitStep, () => steps.split(index), !isReady),
    deed('join', words.joinStep, () => steps.joinWithNext(index), last),
    deed('left', words.moveLeft, () => steps.move(index, index - 1), index === 0),
    deed('right', words.moveRight, () => steps.move(index, index + 1), last),
    deed('look', look ? words.forgetLook : words.keepLook, () => steps.keepLook(index)),
    ...repeats.map(({ key, name, of }) => deed(key, words[name], () => steps.repeat(index, of))),
    deed('off', off ? words.stepOn : words.stepOff, () => steps.toggleOff(index)),
    deed('remove', words.removeStep, () => steps.remove(index)),
  ];
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
      return left + width / 2 < event.clientX !== isRightToLeft();
    });
    desk.steps.move(index, before.length);
  };
  const key = (event: KeyboardEvent<HTMLElement>) => {
    if (!event.altKey || (event.key !== 'ArrowLeft' && event.key !== 'ArrowRight')) return;
    event.preventDefault();
    event.stopPropagation();
    const to = index + ((event.key === 'ArrowLeft') === isRightToLeft() ? 1 : -1);
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
