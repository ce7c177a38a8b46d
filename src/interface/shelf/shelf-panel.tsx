import type { ReactNode } from 'react';
import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { type Panel, showPanel, useShelf } from '../../desk/document/shelf-panels.ts';
import { words } from '../../words/words.ts';

/** A panel over the table, closed by Escape, beside it, or its button. */
export function ShelfPanel({ panel, title, children }: { panel: Panel; title: string; children: ReactNode }) {
  const isOpen = useShelf((state) => state.shown === panel);
  return (
    <ModalOverlay
      className="overlay"
      isDismissable
      isOpen={isOpen}
      onOpenChange={(open) => !open && showPanel(null)}
    >
      <Modal className={panel === 'library' ? 'modal' : 'modal modal-small'}>
        <Dialog className="dialog">
          <Heading slot="title">{title}</Heading>
          {children}
          <div className="dialog-buttons">
            <Button className="quiet-button" onPress={() => showPanel(null)}>
              {words.dismiss}
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
