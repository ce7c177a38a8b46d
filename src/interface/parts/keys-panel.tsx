import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { set, useStore } from '../../desk/store.ts';
import { words } from '../../words/words.ts';

/** The list of keys. */
export function KeysPanel() {
  const isOpen = useStore((state) => state.keysShown);
  return (
    <ModalOverlay
      className="overlay"
      isDismissable
      isOpen={isOpen}
      onOpenChange={(keysShown) => set({ keysShown })}
    >
      <Modal className="modal modal-small">
        <Dialog className="dialog">
          <Heading slot="title">{words.keysTitle}</Heading>
          <dl className="keys">
            {words.keyList.map(([key, does]) => (
              <div key={key}>
                <dt>
                  <kbd>{key}</kbd>
                </dt>
                <dd>{does}</dd>
              </div>
            ))}
          </dl>
          <div className="dialog-buttons">
            <Button className="quiet-button" onPress={() => set({ keysShown: false })}>
              {words.dismiss}
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
