/** The lessons kept in this browser, with their pictures. */

import { Ellipsis } from 'lucide-react';
import { useState } from 'react';
import { Button, Input, Menu, MenuItem, MenuTrigger, Popover, TextField } from 'react-aria-components';
import type { KeptLesson } from '../../keep/kept.ts';
import { momentText } from '../../words/numbers.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { ShelfPanel } from './shelf-panel.tsx';

export default function LibraryPanel() {
  const lessons = useDesk((state) => state.shelf.lessons);
  const deleted = useDesk((state) => state.shelf.deleted);
  return (
    <ShelfPanel panel="library" title={words.yourLessons}>
      {lessons.length === 0 && <p className="sentence">{words.noLessonsYet}</p>}
      <div role="status" className="library-deleted">
        {deleted && (
          <>
            <p>{words.deleted(deleted.title)}</p>
            {/* the button of the card is gone, so the keyboard goes on here */}
            <Button className="quiet-button" autoFocus onPress={() => void desk.library.haveBack(deleted)}>
              {words.undo}
            </Button>
          </>
        )}
      </div>
      <ul className="library">
        {lessons.map((lesson) => (
          <LibraryCard key={lesson.id} lesson={lesson} />
        ))}
      </ul>
    </ShelfPanel>
  );
}

function LibraryCard({ lesson }: { lesson: KeptLesson }) {
  const picture = useDesk((state) => state.shelf.pictures.get(lesson.id));
  const [naming, setNaming] = useState<string | null>(null);
  const title = lesson.title || words.damagedTitle;
  const done = () => {
    if (naming !== null) void desk.library.rename(lesson, naming);
    setNaming(null);
  };
  return (
    <li className="library-card">
      <Button className="library-open" aria-label={title} onPress={() => void desk.library.open(lesson)}>
        <span className="library-picture">{picture && <img src={picture} alt="" />}</span>
      </Button>
      <div className="library-words">
        {naming === null ? (
          <span className="library-title">{title}</span>
        ) : (
          <TextField
            className="field"
            aria-label={words.nameOfLesson}
            value={naming}
            onChange={setNaming}
            autoFocus
            onBlur={done}
            onKeyDown={(event) => {
              if (event.key === 'Enter') done();
              if (event.key === 'Escape') setNaming(null);
            }}
          >
            <Input />
          </TextField>
        )}
        <small>
          {[
            lesson.place,
            lesson.copy && words.copyMark,
            desk.library.idOnTable === lesson.id && words.onTheTable,
          ]
            .filter(Boolean)
            .join(' · ')}
        </small>
        {lesson.damage && <small className="library-damaged">{words.damaged[lesson.damage]}</small>}
        {lesson.changed > 0 && <small>{momentText(lesson.changed)}</small>}
      </div>
      <MenuTrigger>
        <Button className="tool" aria-label={words.changeLesson(title)}>
          <Ellipsis size={17} strokeWidth={1.75} aria-hidden="true" />
        </Button>
        <Popover className="popover" placement="bottom end">
          <Menu className="menu" aria-label={words.changeLesson(title)}>
            {lesson.damage ? (
              lesson.text !== '' && (
                <MenuItem className="menu-item" onAction={() => desk.library.saveRemains(lesson)}>
                  {words.saveRemains}
                </MenuItem>
              )
            ) : (
              <>
                <MenuItem className="menu-item" onAction={() => setNaming(lesson.title)}>
                  {words.rename}
                </MenuItem>
                <MenuItem className="menu-item" onAction={() => void desk.library.duplicate(lesson)}>
                  {words.duplicate}
                </MenuItem>
              </>
            )}
            <MenuItem className="menu-item" onAction={() => void desk.library.remove(lesson)}>
              {words.deleteLesson}
            </MenuItem>
          </Menu>
        </Popover>
      </MenuTrigger>
    </li>
  );
}
