/** Texts as they stand on a page: those that are cut off, and those that hold a word outside the brackets of the made-up language. */
import type { BrowserContext } from '@playwright/test';

export interface Trouble {
  readonly kind: 'bare' | 'cut';
  readonly text: string;
}

/** Has every page of the context look at its texts whenever it has come to rest, and tell of each trouble by `console.debug`. */
export async function watchTexts(context: BrowserContext): Promise<void> {
  await context.addInitScript(watch);
}

/** Within the page. */
function watch(): void {
  /** So long nothing has changed before the texts are looked at, milliseconds. */
  const CALM = 250;
  const { setTimeout, clearTimeout } = window;
  const told = new Set<string>();
  const tell = (kind: Trouble['kind'], text: string) => {
    const one = JSON.stringify({ kind, text: text.trim().slice(0, 2000) });
    if (told.has(one)) return;
    told.add(one);
    console.debug(`text: ${one}`);
  };

  const hasWord = (text: string) => {
    let rest = text;
    for (let before = ''; before !== rest; ) {
      before = rest;
      rest = rest.replace(/\[[^[\]]*\]/g, ' ');
    }
    return /\p{L}/u.test(rest);
  };
  const isSeen = (element: Element) => {
    const { width, height } = element.getBoundingClientRect();
    return (
      width > 1 && height > 1 && element.checkVisibility({ opacityProperty: true, visibilityProperty: true })
    );
  };
  /** Does a text reach out of something that hides what does? Where it ends in three dots it was meant to. */
  const isCut = (text: Node, holder: Element) => {
    const range = document.createRange();
    range.selectNodeContents(text);
    const { left, right } = range.getBoundingClientRect();
    for (let box: Element | null = holder; box; box = box.parentElement) {
      const { overflowX, textOverflow } = getComputedStyle(box);
      if (textOverflow === 'ellipsis' || /auto|scroll/.test(overflowX)) return false;
      const edge = box.getBoundingClientRect();
      if (/hidden|clip/.test(overflowX) && (left < edge.left - 1 || right > edge.right + 1)) return true;
    }
    return left < -1 || right > innerWidth + 1;
  };

  const look = () => {
    if (!document.body || document.documentElement.lang === '') return;
    for (const element of document.body.querySelectorAll('*')) {
      if (element.closest('kbd, script, style, textarea') || !isSeen(element)) continue;
      for (const node of element.childNodes)
        if (node.nodeType === Node.TEXT_NODE && node.textContent?.trim()) {
          // one text may stand in several nodes
          if (hasWord(node.textContent) && hasWord(element.textContent ?? ''))
            tell('bare', element.textContent ?? '');
          if (isCut(node, element)) tell('cut', `${element.className}: ${element.textContent}`);
        }
      for (const name of ['aria-label', 'title', 'placeholder', 'alt', 'aria-valuetext']) {
        const text = element.getAttribute(name);
        if (text && hasWord(text)) tell('bare', text);
      }
    }
    if (document.documentElement.scrollWidth > innerWidth) tell('cut', 'the page is wider than the window');
  };
  Object.assign(window, { lookAtTexts: look });

  let timer = 0;
  const moves = () =>
    document
      .getAnimations()
      .some(({ playState, effect }) => playState === 'running' && effect?.getTiming().iterations === 1);
  const soon = () => {
    clearTimeout(timer);
    timer = setTimeout(() => (moves() ? soon() : look()), CALM);
  };
  new MutationObserver(soon).observe(document, {
    subtree: true,
    childList: true,
    characterData: true,
    attributes: true,
  });
}
