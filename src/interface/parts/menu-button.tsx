/** A button that opens a menu. The menu itself comes from a library, which is fetched when a menu is first wanted. */
import { type KeyboardEvent, lazy, type ReactNode, Suspense, useRef, useState } from 'react';
import { Button } from './button.tsx';
import type { MenuProps } from './menu.ts';

const loadMenu = () => import('./open-menu.tsx');
const OpenMenu = lazy(loadMenu);

export function MenuButton({
  className,
  name,
  isDisabled = false,
  children,
  menu,
}: {
  className: string;
  /** Said where the button shows a picture, or less than it should say. */
  name?: string;
  isDisabled?: boolean;
  children: ReactNode;
  /** Asked for when the menu opens. */
  menu: () => MenuProps;
}) {
  const anchor = useRef<HTMLButtonElement>(null);
  const [open, setOpen] = useState(false);
  const onKey = (event: KeyboardEvent) => {
    if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return;
    event.preventDefault();
    event.stopPropagation();
    setOpen(true);
  };
  return (
    <>
      <Button
        ref={anchor}
        className={className}
        aria-label={name}
        aria-haspopup="menu"
        aria-expanded={open}
        isDisabled={isDisabled}
        onPress={() => setOpen(true)}
        onPointerEnter={() => void loadMenu()}
        onKeyDown={onKey}
      >
        {children}
      </Button>
      {open && (
        <Suspense>
          <OpenMenu anchor={anchor} close={() => setOpen(false)} {...menu()} />
        </Suspense>
      )}
    </>
  );
}
