import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { words } from '../../words/words.ts';
import { desk } from '../desk.ts';

/** Asks before corners are moved by more than half a millimetre. */
export default function TrueUpDialog(props: {
  moved: number;
  isOpen: boolean;
  onOpenChange: (open: boolean) => void;
}) {
  return (
    <ModalOverlay className="overlay" isDismissable isOpen={props.isOpen} onOpenChange={props.onOpenChange}>
      <Modal className="modal modal-small">
        <Dialog role="alertdialog" className="dialog">
          {({ close }) => (
            <>
              <Heading slot="title">{words.trueUpTitle}</Heading>
              <p>{words.trueUpAsk(props.moved)}</p>
              <div className="dialog-buttons">
                <Button className="quiet-button" onPress={close}>
                  {words.leaveIt}
                </Button>
                <Button
                  className="strong-button"
                  onPress={() => {
                    close();
                    void desk.opening.trueUp();
                  }}
                >
                  {words.goAhead}
                </Button>
              </div>
            </>
          )}
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
