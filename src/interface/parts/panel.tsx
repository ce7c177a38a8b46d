/** What comes up over the table, as long as it is drawn: closed by Escape, beside it, or by a button. */
import type { ReactNode } from 'react';
import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';

export function Panel({
  title,
  about,
  size = 'plain',
  leave,
  close,
  children,
  buttons,
}: {
  title: string;
  /** What it is about, in a line under the title. */
  about?: string;
  size?: 'small' | 'plain' | 'wide';
  /** What the button that closes it says. */
  leave: string;
  close: () => void;
  children: ReactNode;
  /** Beside the one that closes it. */
  buttons?: ReactNode;
}) {
  return (
    <ModalOverlay className="overlay" isDismissable isOpen onOpenChange={(open) => !open && close()}>
      <Modal className={`modal modal-${size}`}>
        <Dialog className="dialog">
          <Heading slot="title">{title}</Heading>
          {about !== undefined && <p className="over-title">{about}</p>}
          {children}
          <div className="dialog-buttons">
            <Button className="quiet-button" onPress={close}>
              {leave}
            </Button>
            {buttons}
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
