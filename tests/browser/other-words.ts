/**
 * The specs ask in English. Where the page speaks the made-up language, every ask is read as its pattern: the same letters,
 * with the brackets and the filler of that language (words/made-up.ts) wherever they may stand; what is read off the page is
 * read back in English. That each text does stand in brackets, whole and in sight, is watched beside it.
 */
import { readdirSync, readFileSync } from 'node:fs';
import AxeBuilder from '@axe-core/playwright';
import { test as base, type Locator, type Page, expect as plain } from '@playwright/test';
import { type Trouble, watchTexts } from './texts.ts';

/** What a spec is about that other words do not change, or cannot; such a spec is left out of the runs in other words. */
export const LEFT_OUT: readonly { readonly what: RegExp; readonly reason: string }[] = [
  { what: /language\.spec/, reason: 'it chooses its languages itself' },
  { what: /quiet\.spec/, reason: 'it measures pauses of the page, to which the watch over texts would add' },
  {
    what: /nothing shifts while the page opens on a desk/,
    reason: 'texts two fifths longer take a line more than the room that is kept for them: 0.0213 for 0.02',
  },
  {
    what: /killing the page|moment after moment/,
    reason: 'soak runs it many times already, and it asks for no text',
  },
];

/**
 * What a phone shows one after the other or behind a press; specs about it want a desk. What a phone has of it is asked by
 * the tests of these files that set a phone's window themselves, in every run.
 */
export const NOT_ON_A_PHONE: typeof LEFT_OUT = [
  {
    what: /(table|steps|replay|inside|drawn-as-ordered|fold-on-model|view)\.spec/,
    reason: 'it works on the sheet and the model side by side',
  },
  {
    what: /(verdicts|workers)\.spec|trued up when asked|drawn on at a press|carries its pictures/,
    reason: 'it reads and presses what stands in the column, which a phone has behind a press',
  },
  {
    what: /(keys|draw)\.spec/,
    reason: 'it works by keys alone; drawing with a finger has a test of its own',
  },
];

/** What the page speaks in this run; empty: English. */
export type Speech = '' | 'made-up' | 'made-up-rtl';
let speech: Speech = '';

/** The arrow that leads back toward the first step. */
export const arrowBack = (): string => (speech === 'made-up-rtl' ? 'ArrowRight' : 'ArrowLeft');

/** Where a share of the way along steps, counted from the first one, lies from the left. */
export const along = (share: number): number => (speech === 'made-up-rtl' ? 1 - share : share);

/** Brackets and filler. */
const DECOR = '(?:[\\[\\]é]|\\s+(?=[é\\]]))*';

/** A text of the page in English. */
export const inEnglish = (text: string): string =>
  speech === '' ? text : text.replace(/(?:\s?é+)*\s?\]/g, '').replaceAll('[', '');

/** A pattern of English with room for brackets and filler before each thing that it matches. */
function roomy({ source, flags }: RegExp): RegExp {
  const atoms = source.match(/\\.|\[(?:\\.|[^\]\\])*\]|\(\?(?:[:=!]|<[=!])|[\s\S]/g)!;
  const told = atoms.map((atom) =>
    // quantifiers, groups and the start match nothing themselves
    /^(?:[*+?(){}|^]|\\[bB]|\(\?.*)$/.test(atom) ? atom : DECOR + (atom === ' ' ? '\\s+' : atom),
  );
  return new RegExp(told.join('').replace(/\{([^{}]*)\}/g, counted), flags);
}

/** What stands between the braces of a count is no text. */
const counted = (all: string) => all.replaceAll(DECOR, '');

const escaped = (text: string) =>
  text
    .trim()
    .replace(/[\\^$.*+?()[\]{}|]/g, '\\$&')
    .replace(/\s+/g, ' ');

type Ask = string | RegExp;

/** What is asked in English, as the page says it. */
export function asked(ask: Ask, exact: boolean, anyCase = !exact): Ask {
  if (speech === '') return ask;
  if (typeof ask !== 'string') return roomy(ask);
  return roomy(new RegExp(exact ? `^${escaped(ask)}$` : escaped(ask), anyCase ? 'i' : ''));
}

interface Asking {
  name?: Ask;
  exact?: boolean;
  hasText?: Ask;
  hasNotText?: Ask;
}

function options(given: Asking | undefined): Asking | undefined {
  if (!given) return given;
  const { name, hasText, hasNotText } = given;
  return {
    ...given,
    ...(name === undefined ? {} : { name: asked(name, given.exact ?? false) }),
    ...(hasText === undefined ? {} : { hasText: asked(hasText, false) }),
    ...(hasNotText === undefined ? {} : { hasNotText: asked(hasNotText, false) }),
  };
}

type Method = (...given: never[]) => unknown;

/** Puts a method of Playwright's in place of itself. */
function replace(
  prototype: object,
  name: string,
  by: (was: Method) => (this: never, ...given: never[]) => unknown,
): void {
  const methods = prototype as Record<string, Method>;
  methods[name] = by(methods[name]!) as Method;
}

/** Texts that a test or its files bring along: the page says them as they are. */
const written = { always: new Set<string>(), now: new Set<string>() };
let inTest = false;
const write = (...texts: readonly string[]): void => {
  for (const text of texts)
    if (/\p{L}/u.test(text) && !['a', 'b'].includes(text)) written[inTest ? 'now' : 'always'].add(text);
};

/** Entries of a lesson file whose words are the file's own. */
const CODES = ['format', 'kind', 'side', 'sideUp', 'glass', 'colour', 'status'];

/** What of a file a page may show: texts of a lesson, names and attributes of a drawing, and the file's own name. */
export function writeFile(name: string, content: string): void {
  write(name, name.replace(/\.\w+$/, ''));
  if (/\.(json|fold)$/.test(name)) {
    try {
      JSON.parse(content, (entry, value) => {
        if (typeof value === 'string' && !CODES.includes(entry) && value.length < 1000) write(value);
        return value;
      });
    } catch {
      // a file that is broken brings no texts
    }
    return;
  }
  for (const [, one, two] of content.slice(0, 500_000).matchAll(/"([^"\n]{1,300})"|>\s*([^<>]{1,300})\s*</g))
    write(...(one ?? two ?? '').split(/\s+/), one ?? two ?? '');
  if (name.endsWith('.dxf')) write(...content.split('\n').map((line) => line.trim()));
}

const samples = new URL('../../public/lessons/', import.meta.url);
for (const name of readdirSync(samples)) writeFile(name, readFileSync(new URL(name, samples), 'utf8'));

let taught = false;

/** Teaches pages and locators, once for a process, to ask as the page speaks. */
function teach(page: Page): void {
  if (taught) return;
  taught = true;
  const pages = Object.getPrototypeOf(page) as object;
  const locators = Object.getPrototypeOf(page.locator('body')) as object;
  for (const one of [pages, locators]) {
    for (const name of ['getByText', 'getByLabel', 'getByPlaceholder', 'getByTitle', 'getByAltText'])
      replace(
        one,
        name,
        (was) =>
          function (this: never, ask: Ask, given?: Asking) {
            return was.call(this, asked(ask, given?.exact ?? false) as never, given as never);
          } as never,
      );
    for (const name of ['getByRole', 'locator'])
      replace(
        one,
        name,
        (was) =>
          function (this: never, what: unknown, given?: Asking) {
            return was.call(this, what as never, options(given) as never);
          } as never,
      );
  }
  replace(
    locators,
    'filter',
    (was) =>
      function (this: never, given?: Asking) {
        return was.call(this, options(given) as never);
      } as never,
  );
  for (const name of [
    'textContent',
    'innerText',
    'inputValue',
    'allTextContents',
    'allInnerTexts',
    'getAttribute',
  ])
    replace(
      locators,
      name,
      (was) =>
        async function (this: never, ...given: never[]) {
          const read = (await was.call(this, ...given)) as string | null | string[];
          return Array.isArray(read)
            ? read.map(inEnglish)
            : typeof read === 'string'
              ? inEnglish(read)
              : read;
        } as never,
    );
  replace(
    locators,
    'fill',
    (was) =>
      function (this: never, text: string, ...more: never[]) {
        write(text);
        return was.call(this, text as never, ...more);
      } as never,
  );
  replace(
    Object.getPrototypeOf(page.keyboard),
    'type',
    (was) =>
      function (this: never, text: string, ...more: never[]) {
        write(text);
        return was.call(this, text as never, ...more);
      } as never,
  );
  replace(
    pages,
    'goto',
    (was) =>
      function (this: never, url: string, ...more: never[]) {
        return was.call(this, (speech && url === './' ? `./?words=${speech}` : url) as never, ...more);
      } as never,
  );
}

/** Answers that are texts, and whether they are asked for whole. */
const TEXTS: Readonly<Record<string, boolean>> = {
  toHaveText: true,
  toContainText: false,
  toHaveValue: true,
  toHaveAccessibleName: true,
};
/** Attributes that are read aloud or shown. */
const SAID = ['aria-label', 'aria-valuetext', 'title', 'placeholder', 'alt'];

function listening<T extends object>(assertion: T): T {
  return new Proxy(assertion, {
    get(target, name, self) {
      const value = Reflect.get(target, name, self);
      if (name === 'not') return listening(value as object);
      if (typeof value !== 'function' || speech === '') return value;
      const whole = TEXTS[name as string];
      if (whole !== undefined)
        return (ask: Ask | Ask[], ...more: unknown[]) =>
          value.call(
            target,
            Array.isArray(ask) ? ask.map((one) => asked(one, whole, false)) : asked(ask, whole, false),
            ...more,
          );
      if (name === 'toHaveAttribute')
        return (attribute: string, ask: Ask, ...more: unknown[]) =>
          value.call(target, attribute, SAID.includes(attribute) ? asked(ask, true) : ask, ...more);
      return value;
    },
  });
}

const isLocator = (one: unknown): one is Locator =>
  typeof one === 'object' && one !== null && 'elementHandles' in one;

/** Playwright's `expect`, which asks a locator for texts as the page speaks. */
export const expect: typeof plain = new Proxy(plain, {
  apply(target, self, given) {
    const assertion = Reflect.apply(target as never, self, given) as object;
    return isLocator(given[0]) ? listening(assertion) : assertion;
  },
});

/** What the watch told since the test began. */
const troubles: Trouble[] = [];

/** Every text that was on the page so far stood in brackets, and none was cut off. */
export async function textsAreWhole(page: Page, room: string): Promise<void> {
  await page.evaluate(() => (window as unknown as { lookAtTexts?: () => void }).lookAtTexts?.());
  const known = [...written.always, ...written.now].sort((a, b) => b.length - a.length);
  const left = troubles.filter(({ kind, text }) => kind === 'cut' || isBare(text, known));
  expect([...new Set(left.map(({ kind, text }) => `${kind}: ${text}`))], room).toEqual([]);
}

/** A test in the words of its run. */
export const test = base.extend<{ speech: Speech }>({
  speech: ['', { option: true }],
  context: async ({ context, speech: of }, use) => {
    speech = of;
    if (speech) await watchTexts(context);
    await use(context);
  },
  page: async ({ page }, use, info) => {
    if (!speech) return use(page);
    teach(page);
    inTest = true;
    written.now.clear();
    troubles.length = 0;
    page.on('console', (message) => {
      const [, told] = /^text: (.*)$/s.exec(message.text()) ?? [];
      if (told) troubles.push(JSON.parse(told));
    });
    await use(page);
    inTest = false;
    if (info.status !== 'passed' || page.isClosed()) return;
    await textsAreWhole(page, 'where the test ended');
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id} ${nodes[0]?.target}`)).toEqual([]);
  },
});

const isLetter = (text: string | undefined) => /[\p{L}\p{N}]/u.test(text ?? '');

/** A text without a word, or several, wherever it stands by itself. */
function withoutWord(text: string, word: string): string {
  let [left, from] = ['', 0];
  for (let at = text.indexOf(word); at >= 0; at = text.indexOf(word, at + 1)) {
    if (at < from) continue;
    const [before, after] = [text[at - 1], text[at + word.length]];
    if ((isLetter(before) && isLetter(word[0])) || (isLetter(after) && isLetter(word.at(-1)))) continue;
    left += `${text.slice(from, at)} `;
    from = at + word.length;
  }
  return left + text.slice(from);
}

/** Is a text of the page in no brackets, nor one that a teacher or a file brought along? */
function isBare(text: string, known: readonly string[]): boolean {
  let rest = text;
  for (let before = ''; before !== rest; ) {
    before = rest;
    rest = rest.replace(/\[[^[\]]*\]/g, ' ');
  }
  let left = rest.toLowerCase();
  for (const one of known) left = withoutWord(left, one.toLowerCase());
  // the made-up language has the tag of English, and so its dates
  left = left.replace(/\b[a-z]{3} \d+, \d{4}, \d+:\d\d\s[ap]m\b/g, ' ');
  // units, paper sizes and file kinds are the same in all languages
  return /\p{L}/u.test(left.replace(/\b(mm|cm|min|svg|dxf|fold|a[3-6]|letter|creaseway)\b/g, ' '));
}
