/** A name that stands beside a button while the pointer rests on it, or the keyboard is there. */
import { type FocusEvent, type PointerEvent, type ReactNode, useEffect, useRef, useState } from 'react';
import { createPortal } from 'react-dom';

/** The pointer rests so long before the name shows, milliseconds. */
const DELAY = 500;
/** Between button and name, and between name and the window's edge, pixels. */
const GAP = 6;

interface Place {
  readonly left: number;
  readonly top: number;
  readonly bottom: number;
}

/** @returns what a button listens to, and the name while it shows */
export function useTip(name: ReactNode) {
  const [place, setPlace] = useState<Place | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  const show = (element: HTMLElement, after: number) => {
    clearTimeout(timer.current);
    timer.current = setTimeout(() => {
      const { left, width, top, bottom } = element.getBoundingClientRect();
      setPlace({ left: left + width / 2, top, bottom });
    }, after);
  };
  const hide = () => {
    clearTimeout(timer.current);
    setPlace(null);
  };
  useEffect(() => () => clearTimeout(timer.current), []);
  return {
    listens: {
      onPointerEnter: (event: PointerEvent<HTMLElement>) => {
        if (event.pointerType !== 'touch') show(event.currentTarget, DELAY);
      },
      onPointerLeave: hide,
      onPointerDown: hide,
      onFocus: (event: FocusEvent<HTMLElement>) => {
        if (event.currentTarget.matches(':focus-visible')) show(event.currentTarget, 0);
      },
      onBlur: hide,
    },
    tip: place && createPortal(<Tip place={place}>{name}</Tip>, document.body),
  };
}

function Tip({ place, children }: { place: Place; children: ReactNode }) {
  const own = useRef<HTMLSpanElement>(null);
  useEffect(() => {
    const { style, offsetWidth, offsetHeight } = own.current!;
    const most = window.innerWidth - offsetWidth - GAP;
    style.left = `${Math.max(GAP, Math.min(most, place.left - offsetWidth / 2))}px`;
    const above = place.top - offsetHeight - GAP;
    style.top = `${above >= GAP ? above : place.bottom + GAP}px`;
    style.visibility = 'visible';
  });
  return (
    <span ref={own} className="tooltip" aria-hidden="true">
      {children}
    </span>
  );
}
