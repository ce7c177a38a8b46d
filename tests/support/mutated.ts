/** Files changed at random along their own structure: elements, groups, entries and operators, not letters. */
import { seededRandom } from '../../src/core/numeric/random.ts';

type Random = () => number;

export type MutatedKind = 'svg' | 'dxf' | 'fold' | 'lesson' | 'pdf';

const pick = <T>(random: Random, list: readonly T[]): T => list[Math.floor(random() * list.length)]!;

/** Numbers and words that readers stumble over. */
const oddNumbers = [
  '0',
  '-1',
  '1e308',
  '-1e308',
  '1e-320',
  'NaN',
  'Infinity',
  '',
  '99999999999',
  '0x10',
  '1,5',
  '١',
  '1e',
  '--2',
  '50%',
  '3em',
  '7fortnight',
];

/** One file, changed one to three times. */
export function mutated(kind: MutatedKind, text: string, seed: number): string {
  const random = seededRandom(seed);
  const change = {
    svg: changedXml,
    dxf: changedGroups,
    fold: changedJson,
    lesson: changedJson,
    pdf: changedContent,
  }[kind];
  let result = text;
  for (let times = 1 + Math.floor(random() * 3); times > 0; times--) result = change(result, random);
  return kind === 'pdf' ? plainPdf(result) : result;
}

/** Puts something else in the place of one match of a pattern, chosen at random. */
function replaceOne(text: string, pattern: RegExp, random: Random, by: (match: string) => string): string {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return text;
  const one = pick(random, found);
  return text.slice(0, one.index) + by(one[0]) + text.slice(one.index + one[0].length);
}

const numbers = /-?\d+(?:\.\d+)?/g;

/** Elements that mean something to a reader, some of them ask for something elsewhere. */
const elements = [
  '<style>line{stroke-width:0} * > *{stroke:url(https://elsewhere.example/a.svg#b)}</style>',
  '<style>@import "https://elsewhere.example/a.css"; @media print{*{display:none}}</style>',
  '<use href="#edge"/>',
  '<use href="https://elsewhere.example/a.svg#x"/>',
  '<image href="https://elsewhere.example/a.png" width="9" height="9"/>',
  '<g transform="rotate(45) scale(1e9)">',
  '</g>',
  '<clipPath id="c"><circle r="3"/></clipPath>',
  '<script>fetch("https://elsewhere.example")</script>',
  '<path d="M0 0L1 1A5 5 0 0 1 9 9Q1 1 2 2"/>',
  '<foreignObject><iframe src="https://elsewhere.example"/></foreignObject>',
  '<symbol id="s"><use href="#s"/></symbol><use href="#s"/>',
  '<text>&amp;\u202eabc</text>',
];
const attributes = [
  'style="stroke:image-set(url(https://elsewhere.example/x))"',
  'transform="matrix(0 0 0 0 0 0)"',
  'clip-path="url(#c)"',
  'stroke-dasharray="0 0"',
  'display="none"',
  'opacity="0"',
  'onload="alert(1)"',
  'xlink:href="https://elsewhere.example"',
  'viewBox="0 0 0 0"',
  'class="valley mountain"',
];

function changedXml(text: string, random: Random): string {
  const tag = /<[a-z][^<>]*\/?>/gi;
  return pick(random, [
    () => replaceOne(text, numbers, random, () => pick(random, oddNumbers)),
    () => replaceOne(text, tag, random, (one) => one + one),
    () => replaceOne(text, tag, random, (one) => one + pick(random, elements)),
    () =>
      replaceOne(text, tag, random, (one) =>
        one.replace(/\s*\/?>$/, (end) => ` ${pick(random, attributes)}${end}`),
      ),
    () => replaceOne(text, /\s[\w:-]+="[^"]*"/g, random, () => ''),
    () =>
      replaceOne(
        text,
        /<(line|path|rect)\b/g,
        random,
        () => `<${pick(random, ['circle', 'polygon', 'use', 'g', 'x:line'])}`,
      ),
    () => replaceOne(text, tag, random, () => ''),
  ])();
}

/** Pairs of a group code and its value. */
function changedGroups(text: string, random: Random): string {
  const lines = text.split(/\r?\n/);
  const at = 2 * Math.floor((random() * lines.length) / 2);
  const group = lines.slice(at, at + 2);
  const changed = pick(random, [
    () => [group[0]!, pick(random, oddNumbers)],
    () => [String(Math.floor(random() * 400) - 5), group[1]!],
    () => [...group, ...group],
    () => [],
    () => ['0', pick(random, ['CIRCLE', 'SPLINE', 'INSERT', 'LWPOLYLINE', 'ENDSEC', 'EOF', 'LINE'])],
    () => ['60', '1', ...group],
    () => [...group, '6', pick(random, ['DASHED', 'NOWHERE', 'ByBlock'])],
  ])();
  return [...lines.slice(0, at), ...changed, ...lines.slice(at + 2)].join('\n');
}

const oddValues: readonly unknown[] = [
  null,
  true,
  -1,
  1e308,
  1.5,
  '',
  'x',
  [],
  {},
  [[1]],
  { __proto__: 1 },
  99999999,
  '\u202e',
];

function changedJson(text: string, random: Random): string {
  const whole = JSON.parse(text) as Record<string, unknown>;
  let at: Record<string, unknown> = whole;
  // down to some depth
  for (;;) {
    const deeper = Object.values(at).filter((one) => typeof one === 'object' && one !== null);
    if (deeper.length === 0 || random() < 0.2) break;
    at = pick(random, deeper) as Record<string, unknown>;
  }
  const key = pick(random, Object.keys(at));
  if (key === undefined) return text;
  const value = at[key];
  pick(random, [
    () => void (at[key] = pick(random, oddValues)),
    () => (Array.isArray(at) ? void at.splice(Number(key), 1) : void delete at[key]),
    () => (Array.isArray(at) ? void at.push(value) : void (at[`${key}2`] = value)),
    () =>
      void (at[key] =
        typeof value === 'number' ? pick(random, [-value, 0, value * 1e9, value + 0.3]) : [value]),
  ])();
  return JSON.stringify(whole);
}

const operators = [
  'q',
  'Q',
  'S',
  'f',
  'h',
  'W n',
  '[3 1] 0 d',
  '0 w',
  '1 0 0 rg',
  '0 0 0 0 0 0 cm',
  '1e9 0 0 1e9 0 0 cm',
  '9 9 m',
  '/X Do',
  'BT ET',
  '0 0 5 5 re',
  '1 2 3 4 5 6 c',
  '/OC /M BDC',
  'EMC',
];

function changedContent(text: string, random: Random): string {
  const lines = text.split('\n');
  const at = Math.floor(random() * lines.length);
  const changed = pick(random, [
    () => [lines[at]!.replace(numbers, (one) => (random() < 0.5 ? pick(random, oddNumbers) : one))],
    () => [lines[at]!, lines[at]!],
    () => [],
    () => [lines[at]!, pick(random, operators)],
    () => [pick(random, operators)],
  ])();
  return [...lines.slice(0, at), ...changed, ...lines.slice(at + 1)].join('\n');
}

/** Operators that draw a sheet of 200 points with three dashed folds. */
export const pdfContent = `1 w
100 100 200 200 re S
[9 4] 0 d
100 150 m 300 150 l S
100 200 m 300 200 l S
[12 3 2 3 2 3] 0 d
q 1 0 0 1 0 50 cm 100 200 m 300 200 l S Q
0 0 1 RG
BT /F 12 Tf 100 320 Td (Quay) Tj ET`;

/** A PDF file of one page with nothing packed (ISO 32000-2, 7.5). */
export function plainPdf(content: string): string {
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R >>',
    '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    '<< /Type /Page /Parent 2 0 R /MediaBox [0 0 400 400] /Contents 4 0 R /Resources << >> >>',
    `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
  ];
  let text = '%PDF-1.4\n';
  const places = objects.map((object, k) => {
    const place = text.length;
    text += `${k + 1} 0 obj\n${object}\nendobj\n`;
    return place;
  });
  const table = text.length;
  const rows = places.map((place) => `${String(place).padStart(10, '0')} 00000 n \n`).join('');
  return `${text}xref\n0 5\n0000000000 65535 f \n${rows}trailer\n<< /Size 5 /Root 1 0 R >>\nstartxref\n${table}\n%%EOF\n`;
}
