import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { type Command, keyText } from '../../desk/commands.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';

/** The list of keys. */
export default function KeysPanel() {
  const isOpen = useDesk((state) => state.look.keysShown);
  return (
    <ModalOverlay
      className="overlay"
      isDismissable
      isOpen={isOpen}
      onOpenChange={(keysShown) => desk.store.put({ look: { keysShown } })}
    >
      <Modal className="modal modal-small">
        <Dialog className="dialog">
          <Heading slot="title">{words.keysTitle}</Heading>
          <KeyList keys={keysOf('always')} />
          <h3 className="small-title">{words.keysElsewhere}</h3>
          <KeyList keys={words.placeKeys} />
          <h3 className="small-title">{words.keysWhileDrawing}</h3>
          <KeyList keys={keysOf('drawing')} />
          <div className="dialog-buttons">
            <Button className="quiet-button" onPress={() => desk.store.put({ look: { keysShown: false } })}>
              {words.dismiss}
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}

const keysOf = (when: Command['while']) =>
  desk.commands.list.filter((one) => one.while === when).map((one) => [keyText(one), one.name] as const);

function KeyList({ keys }: { keys: readonly (readonly [string, string])[] }) {
  return (
    <dl className="keys">
      {keys.map(([key, does]) => (
        <div key={`${key} ${does}`}>
          <dt>
            <kbd>{key}</kbd>
          </dt>
          <dd>{does}</dd>
        </div>
      ))}
    </dl>
  );
}
