/** Title of the lesson, its paper, and the few menus. */

import { Download, Ellipsis, FolderOpen, Keyboard, Moon, Redo2, Sun, Undo2 } from 'lucide-react';
import { useRef } from 'react';
import {
  Button,
  FileTrigger,
  Menu,
  Header as MenuHeading,
  MenuItem,
  MenuSection,
  MenuTrigger,
  Popover,
  Separator,
} from 'react-aria-components';
import { type ShelfPanelName, shelfPanels } from '../desk/store.ts';
import { words } from '../words/words.ts';
import type { FileFormat } from '../worker/protocol.ts';
import { desk, useDesk } from './desk.ts';
import { PaperPopover } from './paper-popover.tsx';
import { Tool } from './parts/parts.tsx';
import './header.css';

const accepted = ['.svg', '.dxf', '.fold', '.json', '.lesson'];
const formats: readonly FileFormat[] = ['lesson', 'fold', 'svg', 'glb', 'obj'];

export function Header() {
  const lesson = useDesk((state) => state.document.lesson);
  const lessons = useDesk((state) => state.shelf.samples);
  const canUndo = useDesk((state) => state.document.canUndo);
  const canRedo = useDesk((state) => state.document.canRedo);
  const dark = useDesk((state) => state.look.dark);
  const summary = useRef<HTMLButtonElement>(null);
  return (
    <header className="header">
      <div className="header-words">
        <h1>{lesson?.title ?? words.tool}</h1>
        {lesson && (
          <p className="header-place">
            {lesson.place && <span className="place">{lesson.place}</span>}
            <Button
              ref={summary}
              className="summary-button"
              onPress={() => desk.store.put({ look: { paperShown: true } })}
            >
              <span className="swatch" style={{ background: lesson.sheet.sides.a.colour }} />
              <span className="swatch" style={{ background: lesson.sheet.sides.b.colour }} />
              <span>
                {words.sheetSummary(lesson.sheet.size, lesson.sheet.sides[lesson.sheet.sideUp].name)}
              </span>
            </Button>
            <PaperPopover anchor={summary} />
            <Button className="summary-button wide-only" onPress={() => desk.library.show('about')}>
              {words.aboutLesson}
            </Button>
          </p>
        )}
      </div>
      <nav className="header-tools" aria-label={words.tool}>
        <MenuTrigger>
          <Button className="text-button wide-only">{words.lessons}</Button>
          <Popover className="popover" placement="bottom end">
            <LessonMenu />
          </Popover>
        </MenuTrigger>
        <FileTrigger acceptedFileTypes={accepted} onSelect={(files) => void openFiles(files)}>
          <Button className="text-button wide-only" id="open-file">
            <FolderOpen size={16} strokeWidth={1.75} aria-hidden="true" /> {words.openShort}
          </Button>
        </FileTrigger>
        <MenuTrigger>
          <Button className="text-button wide-only" isDisabled={!lesson}>
            <Download size={16} strokeWidth={1.75} aria-hidden="true" /> {words.save}
          </Button>
          <Popover className="popover" placement="bottom end">
            <Menu
              className="menu"
              aria-label={words.save}
              onAction={(key) => void desk.saving.save(key as FileFormat)}
            >
              {formats.map((format) => (
                <MenuItem key={format} id={format} className="menu-item">
                  {words.saveAs[format]}
                </MenuItem>
              ))}
            </Menu>
          </Popover>
        </MenuTrigger>
        <span className="divider wide-only" />
        <Tool
          label={words.undo}
          keyName="Ctrl Z"
          icon={Undo2}
          isDisabled={!canUndo}
          onPress={desk.edits.undo}
        />
        <Tool
          label={words.redo}
          keyName="Ctrl Y"
          icon={Redo2}
          isDisabled={!canRedo}
          onPress={desk.edits.redo}
        />
        <span className="wide-only header-tools">
          <Tool
            label={dark ? words.lightTable : words.darkTable}
            keyName="N"
            icon={dark ? Sun : Moon}
            onPress={desk.views.toggleTable}
          />
          <Tool
            label={words.keys}
            keyName="?"
            icon={Keyboard}
            onPress={() => desk.store.put({ look: { keysShown: true } })}
          />
        </span>
        <MenuTrigger>
          <Button className="tool narrow-only" aria-label={words.more}>
            <Ellipsis size={18} strokeWidth={1.75} aria-hidden="true" />
          </Button>
          <Popover className="popover" placement="bottom end">
            <Menu
              className="menu"
              aria-label={words.more}
              onAction={(key) => {
                const entry = lessons.find((one) => one.file === key);
                if (entry) void desk.opening.openSample(entry);
                else if (key === 'new lesson') void desk.opening.newLesson().then(desk.drawing.begin);
                else if (key === 'open') document.getElementById('open-file-anywhere')?.click();
                else if (key === 'paper') desk.store.put({ look: { paperShown: true } });
                else if (key === 'table') desk.views.toggleTable();
                else if (isPanel(key)) desk.library.show(key);
                else void desk.saving.save(key as FileFormat);
              }}
            >
              <MenuItem id="paper" className="menu-item">
                {words.paper}
              </MenuItem>
              <MenuItem id="open" className="menu-item">
                {words.open}
              </MenuItem>
              {PanelItems()}
              <MenuItem id="table" className="menu-item">
                {dark ? words.lightTable : words.darkTable}
              </MenuItem>
              <MenuSection>
                <MenuHeading className="menu-heading">{words.save}</MenuHeading>
                {formats.map((format) => (
                  <MenuItem key={format} id={format} className="menu-item">
                    {words.saveAs[format]}
                  </MenuItem>
                ))}
              </MenuSection>
              <MenuSection>
                <MenuHeading className="menu-heading">{words.lessons}</MenuHeading>
                <MenuItem id="new lesson" className="menu-item" textValue={words.newLesson}>
                  {words.newLesson}
                </MenuItem>
                {lessons.map((entry) => (
                  <MenuItem key={entry.file} id={entry.file} className="menu-item" textValue={entry.title}>
                    {entry.title}
                  </MenuItem>
                ))}
              </MenuSection>
            </Menu>
          </Popover>
        </MenuTrigger>
        <input
          id="open-file-anywhere"
          type="file"
          hidden
          accept={accepted.join(',')}
          onChange={(event) => {
            void openFiles(event.currentTarget.files);
            event.currentTarget.value = '';
          }}
        />
      </nav>
    </header>
  );
}

/** The panels that tell of kept lessons, as items of a menu. */
const PanelItems = () =>
  shelfPanels.map((panel) => (
    <MenuItem key={panel} id={panel} className="menu-item">
      {panelWords[panel]}
    </MenuItem>
  ));

const isPanel = (key: unknown): key is ShelfPanelName => shelfPanels.includes(key as ShelfPanelName);

const panelWords: Record<ShelfPanelName, string> = {
  library: `${words.yourLessons}…`,
  about: `${words.aboutLesson}…`,
  versions: `${words.versions}…`,
};

function LessonMenu() {
  const lessons = useDesk((state) => state.shelf.samples);
  return (
    <Menu
      className="menu"
      aria-label={words.lessons}
      onAction={(key) => {
        if (key === 'new lesson') void desk.opening.newLesson().then(desk.drawing.begin);
        const entry = lessons.find((one) => one.file === key);
        if (entry) void desk.opening.openSample(entry);
        else if (isPanel(key)) desk.library.show(key);
      }}
    >
      {PanelItems()}
      <Separator className="separator" />
      <MenuItem id="new lesson" className="menu-item menu-item-two" textValue={words.newLesson}>
        <span>{words.newLesson}</span>
        <small>{words.newLessonWhat}</small>
      </MenuItem>
      {lessons.map((entry) => (
        <MenuItem
          key={entry.file}
          id={entry.file}
          className="menu-item menu-item-two"
          textValue={entry.title}
        >
          <span>{entry.title}</span>
          <small>{entry.place}</small>
        </MenuItem>
      ))}
    </Menu>
  );
}

/** Opens the first of the files. */
export async function openFiles(files: FileList | null): Promise<void> {
  const file = files?.[0];
  if (file) await desk.opening.openBytes(file.name, new Uint8Array(await file.arrayBuffer()));
}
