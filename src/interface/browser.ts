/** The browser as the desk needs it. */
import type { Around, Clock, Memory, PagePart } from '../desk/around.ts';
import { hold } from '../keep/hold.ts';
import { Shelf } from '../keep/shelf.ts';
import { sentencesReady } from '../words/findings.ts';
import { startSolver } from '../worker/client.ts';
import { startFiles } from '../worker/file-client.ts';
import { startLayerSolver } from '../worker/layer-client.ts';
import { startMends } from '../worker/mend-client.ts';
import { startWrongs } from '../worker/wrong-client.ts';

const clock: Clock = {
  now: () => performance.now(),
  later: (call, milliseconds) => {
    const timer = setTimeout(call, milliseconds);
    return () => clearTimeout(timer);
  },
  frame: (call) => {
    const frame = requestAnimationFrame(call);
    return () => cancelAnimationFrame(frame);
  },
};

const storages = { browser: () => localStorage, tab: () => sessionStorage };

const memory: Memory = {
  read: (of, name) => {
    try {
      return storages[of]().getItem(name);
    } catch {
      // storage is switched off
      return null;
    }
  },
  write: (of, name, text) => {
    try {
      storages[of]().setItem(name, text);
    } catch {
      // storage is switched off or full; what matters lies on the shelf
    }
  },
};

/** Workers and the database start with the first request. */
export function browserAround(): Around {
  return {
    clock,
    memory,
    page: { chooseFile, focus },
    files: startFiles(sentencesReady),
    solver: startSolver(sentencesReady),
    layers: startLayerSolver(),
    mends: startMends(),
    startWrongs,
    shelf: new Shelf(),
    hold,
    others: otherTabs(),
    fetchFile,
    handOver,
    askToPersist: () => void navigator.storage?.persist?.(),
    motionReduced: () => matchMedia('(prefers-reduced-motion: reduce)').matches,
    prefersDark: () => matchMedia('(prefers-color-scheme: dark)').matches,
    newId,
  };
}

function chooseFile(): void {
  document.getElementById('open-file-anywhere')?.click();
}

/** Where the keyboard goes; what was just asked for is there with the next picture. */
function focus(part: PagePart): void {
  const find = () => (part === 'next room' ? nextRoom() : document.querySelector<HTMLElement>(places[part]));
  requestAnimationFrame(() => find()?.focus());
}

const places: Readonly<Record<Exclude<PagePart, 'next room'>, string>> = {
  slice: '#slice-handle',
  words: '.step-part .sentence-input',
  place: '.draw-place input',
};

/** What the keyboard finds first in each room, in the order of the screen. */
const rooms = ['.header button', '.sheet-board', '.model-board', '.column button', '.fold-range'];

function nextRoom(): HTMLElement | null {
  const found = rooms.map((one) => document.querySelector<HTMLElement>(one));
  const shown = found.filter((one) => one?.checkVisibility({ visibilityProperty: true }));
  const here = shown.findIndex((one) => one && roomOf(one).contains(document.activeElement));
  return shown[(here + 1) % shown.length] ?? null;
}

/** The part of the screen that an element belongs to. */
const roomOf = (element: Element): Element =>
  element.closest('.header, .view, .column, .storyboard') ?? element;

async function fetchFile(path: string): Promise<Uint8Array<ArrayBuffer>> {
  const answer = await fetch(path);
  if (!answer.ok) throw new Error(answer.statusText);
  return new Uint8Array(await answer.arrayBuffer());
}

function handOver(name: string, bytes: Uint8Array, type: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([bytes as BlobPart], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** Tabs tell each other that a lesson on the shelf changed. */
function otherTabs(): Around['others'] {
  const channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('creaseway shelf');
  return {
    tell: () => channel?.postMessage('changed'),
    hear: (call) => {
      if (channel) channel.onmessage = call;
    },
  };
}

function newId(): string {
  const part = () => crypto.getRandomValues(new Uint32Array(1))[0]!.toString(36).padStart(7, '0');
  return `${Date.now().toString(36)}-${part()}${part()}`;
}
