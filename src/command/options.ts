import { parseArgs } from 'node:util';
import { Unusable } from './unusable.ts';

const verbs = ['check', 'fold', 'layers'] as const;
type Verb = (typeof verbs)[number];

export interface Options {
  readonly verb: Verb;
  readonly file: string;
  readonly json: boolean;
  readonly list: boolean;
  /** Check the folded paper too: contact and layers. */
  readonly folded: boolean;
  /** Millimetres. */
  readonly trueUp: number | null;
  /** Length of the longer side of the sheet, mm. */
  readonly sheet: number | null;
  readonly lines: string | null;
  /** Which sheet of a drawing is meant, from 1; all: every line of it. */
  readonly region: number | 'all' | null;
  readonly page: number | null;
  /** 0..1, null where not given. */
  readonly to: number | null;
  /** Crease number -> degrees. */
  readonly hold: ReadonlyMap<number, number>;
  readonly free: boolean;
  readonly still: number | null;
  /** Counted from 1. */
  readonly step: number | null;
  readonly bend: boolean;
  /** Layers and contact are left out. */
  readonly motionOnly: boolean;
  readonly track: number | null;
  readonly up: 'a' | 'b' | null;
  readonly out: string | null;
  /** Pairs of panels, the first over (or under) the second. */
  readonly over: readonly (readonly [number, number])[];
  readonly under: readonly (readonly [number, number])[];
  readonly seconds: number | null;
}

const both = ['json', 'true-up', 'sheet', 'lines', 'region', 'page'] as const;
const known: Readonly<Record<Verb, readonly string[]>> = {
  check: [...both, 'list', 'folded', 'still', 'seconds'],
  layers: [...both, 'to', 'still', 'step', 'list', 'over', 'under', 'seconds'],
  fold: [
    ...both,
    ...['to', 'hold', 'free', 'still', 'step', 'bend', 'track', 'up', 'out', 'motion-only', 'seconds'],
  ],
};

const later = new Set(['colours', 'size', 'landmarks', 'plan', 'handout']);

const forms = {
  json: { type: 'boolean' },
  list: { type: 'boolean' },
  folded: { type: 'boolean' },
  'true-up': { type: 'string' },
  sheet: { type: 'string' },
  lines: { type: 'string' },
  region: { type: 'string' },
  page: { type: 'string' },
  to: { type: 'string' },
  hold: { type: 'string', multiple: true },
  free: { type: 'boolean' },
  still: { type: 'string' },
  step: { type: 'string' },
  bend: { type: 'boolean' },
  'motion-only': { type: 'boolean' },
  track: { type: 'string' },
  up: { type: 'string' },
  out: { type: 'string' },
  over: { type: 'string', multiple: true },
  under: { type: 'string', multiple: true },
  seconds: { type: 'string' },
} as const;

/** Reads the words of a call. Throws Unusable, with one sentence, for calls that mean nothing. */
export function readOptions(words: readonly string[]): Options {
  const [named = '', ...rest] = words;
  if (later.has(named)) throw new Unusable((say) => say.verbLater(named));
  const verb = verbs.find((one) => one === named);
  if (!verb) throw new Unusable((say) => say.noVerb(named));
  const allowed = known[verb];
  const { values, positionals } = parse(joinNegativeValues(rest));
  for (const name of Object.keys(values)) {
    if (!allowed.includes(name)) throw new Unusable((say) => say.noOption(verb, name, allowed));
  }
  if (positionals.length !== 1) {
    throw new Unusable((say) => say.oneFile(verb, positionals.length));
  }
  return {
    verb,
    file: positionals[0]!,
    json: values.json ?? false,
    list: values.list ?? false,
    folded: values.folded ?? false,
    trueUp: values['true-up'] === undefined ? null : length(values['true-up'], 'true-up'),
    sheet: values.sheet === undefined ? null : length(values.sheet, 'sheet'),
    lines: values.lines ?? null,
    region: values.region === undefined ? null : readRegion(values.region),
    page: values.page === undefined ? null : whole(values.page, 'page', 1),
    to: values.to === undefined ? null : number(values.to, 'to', 0, 1),
    hold: new Map((values.hold ?? []).flatMap((text) => text.split(',')).map(readHold)),
    free: values.free ?? false,
    still: values.still === undefined ? null : whole(values.still, 'still', 0),
    step: values.step === undefined ? null : whole(values.step, 'step', 1),
    bend: values.bend ?? false,
    motionOnly: values['motion-only'] ?? false,
    track: values.track === undefined ? null : whole(values.track, 'track', 2),
    up: values.up === undefined ? null : side(values.up),
    out: values.out ?? null,
    over: (values.over ?? []).map((text) => pair(text, 'over')),
    under: (values.under ?? []).map((text) => pair(text, 'under')),
    seconds: values.seconds === undefined ? null : number(values.seconds, 'seconds', 0, 86_400),
  };
}

function parse(words: string[]) {
  try {
    return parseArgs({ args: words, options: forms, allowPositionals: true, strict: true });
  } catch (error) {
    const said = error instanceof Error ? error.message : String(error);
    throw new Unusable((say) => say.notUnderstood(said.split(/\. |\n/)[0]!.replace(/\.$/, '')));
  }
}

/** `--true-up -1` reaches the range check as `--true-up=-1` instead of being taken for another option. */
function joinNegativeValues(words: readonly string[]): string[] {
  const joined: string[] = [];
  for (const word of words) {
    const before = joined[joined.length - 1];
    if (/^-[\d.]/.test(word) && before?.startsWith('--') && !before.includes('='))
      joined[joined.length - 1] = `${before}=${word}`;
    else joined.push(word);
  }
  return joined;
}

function number(text: string, option: string, low: number, high: number): number {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (value >= low && value <= high) return value;
  throw new Unusable((say) => say.wantsNumber(option, low, high, text));
}

function whole(text: string, option: string, low: number): number {
  const value = number(text, option, low, 1e6);
  if (Number.isInteger(value)) return value;
  throw new Unusable((say) => say.wantsWhole(option, text));
}

const millimetres: Readonly<Record<string, number>> = { '': 1, mm: 1, cm: 10, in: 25.4 };

function length(text: string, option: string): number {
  const match = /^\s*([\d.]+(?:e[-+]?\d+)?)\s*(mm|cm|in|)\s*$/i.exec(text);
  const value = match ? Number(match[1]) * millimetres[match[2]!.toLowerCase()]! : Number.NaN;
  if (value > 0 && Number.isFinite(value)) return value;
  throw new Unusable((say) => say.wantsLength(option, text));
}

function readRegion(text: string): number | 'all' {
  if (text === 'all') return text;
  return /^\d+$/.test(text) ? whole(text, 'region', 1) : wantsRegion(text);
}

function wantsRegion(text: string): never {
  throw new Unusable((say) => say.wantsRegion(text));
}

function side(text: string): 'a' | 'b' {
  if (text === 'a' || text === 'b') return text;
  throw new Unusable((say) => say.wantsSide(text));
}

function pair(text: string, option: string): [number, number] {
  const match = /^\s*(\d+)\s*,\s*(\d+)\s*$/.exec(text);
  if (match && match[1] !== match[2]) return [Number(match[1]), Number(match[2])];
  throw new Unusable((say) => say.wantsPair(option, text));
}

function readHold(text: string): [number, number] {
  const match = /^(\d+)=(-?[\d.]+)$/.exec(text.trim());
  if (!match) throw new Unusable((say) => say.wantsHold(text));
  return [Number(match[1]), number(match[2]!, 'hold', -180, 180)];
}
