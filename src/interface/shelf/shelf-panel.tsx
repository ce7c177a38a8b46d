import type { ReactNode } from 'react';
import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import type { ShelfPanelName } from '../../desk/store.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import './shelf.css';

/** A panel over the table, closed by Escape, beside it, or its button. */
export function ShelfPanel({
  panel,
  title,
  children,
}: {
  panel: ShelfPanelName;
  title: string;
  children: ReactNode;
}) {
  const isOpen = useDesk((state) => state.shelf.shown === panel);
  return (
    <ModalOverlay
      className="overlay"
      isDismissable
      isOpen={isOpen}
      onOpenChange={(open) => !open && desk.library.show(null)}
    >
      <Modal className={panel === 'library' ? 'modal' : 'modal modal-small'}>
        <Dialog className="dialog">
          <Heading slot="title">{title}</Heading>
          {children}
          <div className="dialog-buttons">
            <Button className="quiet-button" onPress={() => desk.library.show(null)}>
              {words.dismiss}
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
