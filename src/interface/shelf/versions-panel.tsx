/** States of the lesson that were given a name. */

import { X } from 'lucide-react';
import { useState } from 'react';
import { Button, Input, Label, TextField } from 'react-aria-components';
import { momentText } from '../../words/numbers.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { Tool } from '../parts/tool.tsx';
import { ShelfPanel } from './shelf-panel.tsx';

export default function VersionsPanel() {
  const versions = useDesk((state) => state.shelf.versions);
  const [name, setName] = useState('');
  const keep = () => {
    if (!name.trim()) return;
    void desk.library.keepVersion(name.trim());
    setName('');
  };
  return (
    <ShelfPanel panel="versions" title={words.versions}>
      <p className="sentence">{words.versionsIntro}</p>
      <form
        className="version-new"
        onSubmit={(event) => {
          event.preventDefault();
          keep();
        }}
      >
        <TextField className="field" value={name} onChange={setName}>
          <Label>{words.versionName}</Label>
          <Input />
        </TextField>
        <Button className="strong-button" type="submit" isDisabled={!name.trim()}>
          {words.keepVersion}
        </Button>
      </form>
      {versions.length === 0 && <p className="sentence">{words.noVersions}</p>}
      <ul className="library">
        {versions.map((version) => (
          <li key={version.key} className="library-card">
            <span className="library-picture">{version.picture && <img src={version.picture} alt="" />}</span>
            <div className="library-words">
              <span className="library-title">{version.name}</span>
              <small>{momentText(version.at)}</small>
              <Button
                className="link-button"
                aria-label={words.goBackTo(version.name)}
                onPress={() => desk.library.goBackTo(version)}
              >
                {words.goBack}
              </Button>
            </div>
            <Tool
              label={words.removeVersion(version.name)}
              icon={X}
              onPress={() => void desk.library.removeVersion(version)}
            />
          </li>
        ))}
      </ul>
    </ShelfPanel>
  );
}
