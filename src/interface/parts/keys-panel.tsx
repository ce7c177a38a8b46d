import { type Command, keyText } from '../../desk/commands.ts';
import { words } from '../../words/words.ts';
import { desk } from '../desk.ts';
import { Panel } from './panel.tsx';

/** The list of keys. */
export default function KeysPanel() {
  return (
    <Panel
      title={words.keysTitle}
      size="small"
      leave={words.dismiss}
      close={() => desk.store.put({ look: { keysShown: false } })}
    >
      <KeyList keys={keysOf('always')} />
      <h3 className="small-title">{words.keysElsewhere}</h3>
      <KeyList keys={words.placeKeys} />
      <h3 className="small-title">{words.keysWhileDrawing}</h3>
      <KeyList keys={keysOf('drawing')} />
    </Panel>
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
