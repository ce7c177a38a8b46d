import { colord, extend } from 'colord';
import names from 'colord/plugins/names';

extend([names]);

/** Stands for a colour that is not known. */
const UNKNOWN = '#000000';

/** Longest text that is tried as a colour. */
const COLOUR_LENGTH = 100;

/** What a stroke is painted with. */
export interface Paint {
  /** `none` paints nothing; `clear` is a colour through which all is seen. */
  readonly shown: 'none' | 'clear' | 'painted';
  /** #rrggbb always: nothing that stands in a file goes further as it is. */
  readonly colour: string;
  /** The file gives no plain colour, so that black stands for it. */
  readonly unread: boolean;
}

const none: Paint = { shown: 'none', colour: UNKNOWN, unread: false };
const unread: Paint = { shown: 'painted', colour: UNKNOWN, unread: true };

/** Reads the property `stroke` (SVG 2, 13.2). `current` is the property `color`; `hasId` knows ids of the drawing. */
export function paintOf(stroke: string, current: string, hasId: (id: string) => boolean): Paint {
  const text = stroke.trim();
  const word = text.toLowerCase();
  if (word === 'none') return none;
  if (word === 'currentcolor') return colourPaint(current);
  if (!word.startsWith('url(')) return colourPaint(text);
  const [, reference, otherwise] = /^url\(([^)]*)\)(.*)$/is.exec(text) ?? [];
  const id = referenceIn(`url(${reference ?? ''})`);
  if (otherwise === undefined || otherwise.trim() === '' || (id !== null && hasId(id))) return unread;
  const second = otherwise.trim().toLowerCase() === 'currentcolor' ? current : otherwise.trim();
  return { ...(second.toLowerCase() === 'none' ? none : colourPaint(second)), unread: true };
}

function colourPaint(text: string): Paint {
  const colour = text.length > COLOUR_LENGTH ? null : colord(text);
  if (!colour?.isValid()) return unread;
  return { shown: colour.alpha() > 0 ? 'painted' : 'clear', colour: colour.alpha(1).toHex(), unread: false };
}

/** The id in `url(#id)`, quotes or none; null for anything else. */
export function referenceIn(text: string): string | null {
  return /^url\(\s*["']?#([^"')\s]*)["']?\s*\)/i.exec(text.trim())?.[1] ?? null;
}
