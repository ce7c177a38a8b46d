/** A menu that is open. */
import {
  Header as Heading,
  Menu,
  MenuItem,
  MenuSection,
  Popover,
  Separator,
  Text,
} from 'react-aria-components';
import type { MenuEntry, MenuPart, OpenMenuProps } from './menu.ts';

export default function OpenMenu(props: OpenMenuProps) {
  const { label, parts, onChoose, chosen, placement, menuClassName = '', anchor, close } = props;
  const disabled = parts.flatMap(({ entries }) => entries.filter((one) => one.isDisabled));
  return (
    <Popover
      className="popover"
      aria-label={label}
      triggerRef={anchor}
      placement={placement}
      isOpen
      onOpenChange={(open) => !open && close()}
    >
      <Menu
        className={`menu ${menuClassName}`}
        aria-label={label}
        autoFocus="first"
        {...(chosen !== undefined && { selectionMode: 'single', selectedKeys: [chosen] })}
        disabledKeys={disabled.map(({ id }) => id)}
        onAction={(key) => onChoose(String(key))}
        onClose={close}
      >
        {parts.flatMap((part, k) => partItems(part, k))}
      </Menu>
    </Popover>
  );
}

function partItems({ heading, entries }: MenuPart, k: number) {
  const items = entries.map((one) => entryItem(one));
  if (heading === undefined) return k === 0 ? items : [<Separator key={k} className="separator" />, ...items];
  return [
    <MenuSection key={k}>
      <Heading className="menu-heading">{heading}</Heading>
      {items}
    </MenuSection>,
  ];
}

function entryItem({ id, name, note, keyName }: MenuEntry) {
  return (
    <MenuItem
      key={id}
      id={id}
      className={`menu-item${note === undefined ? '' : ' menu-item-two'}`}
      textValue={name}
    >
      <Text slot="label">{name}</Text>
      {note && (
        <Text slot="description" className="choice-note">
          {note}
        </Text>
      )}
      {keyName && <kbd>{keyName}</kbd>}
    </MenuItem>
  );
}
