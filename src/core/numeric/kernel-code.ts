/**
 * The two inner loops of the sparse factorisation as WebAssembly with two numbers a step (SIMD), put together here byte
 * by byte: small enough to need no other language, and compiled by the engine in well under a millisecond.
 * Opcodes: WebAssembly Core Specification 2.0 with its vector instructions.
 */

const I32 = 0x7f;
const F64 = 0x7c;
const V128 = 0x7b;

/** Whole number in the variable-length form of the format. */
function leb(value: number): number[] {
  const bytes: number[] = [];
  let rest = value;
  for (;;) {
    const low = rest & 0x7f;
    rest >>= 7;
    const last = (rest === 0 && (low & 0x40) === 0) || (rest === -1 && (low & 0x40) !== 0);
    bytes.push(last ? low : low | 0x80);
    if (last) return bytes;
  }
}

/** Length or index: never negative. */
function size(value: number): number[] {
  const bytes: number[] = [];
  let rest = value;
  do {
    const low = rest & 0x7f;
    rest >>>= 7;
    bytes.push(rest > 0 ? low | 0x80 : low);
  } while (rest > 0);
  return bytes;
}

const section = (id: number, content: number[]) => [id, ...size(content.length), ...content];
const list = (items: readonly number[][]) => [...size(items.length), ...items.flat()];
const text = (word: string) => [...size(word.length), ...Array.from(word, (letter) => letter.charCodeAt(0))];

/** A function under construction: locals by name, expressions as byte lists. */
class Code {
  private readonly names: string[];
  private readonly kinds: number[] = [];

  constructor(parameters: readonly string[]) {
    this.names = [...parameters];
  }

  local(name: string, kind: number): void {
    this.names.push(name);
    this.kinds.push(kind);
  }

  private at(name: string): number[] {
    const index = this.names.indexOf(name);
    if (index < 0) throw new Error(`no local ${name}`);
    return size(index);
  }

  get = (name: string) => [0x20, ...this.at(name)];
  set = (name: string, value: number[]) => [...value, 0x21, ...this.at(name)];

  /** Repeats the body while the condition holds. */
  while = (condition: number[], body: number[]) => [
    ...[0x02, 0x40, 0x03, 0x40],
    ...[...condition, 0x45, 0x0d, 1],
    ...[...body, 0x0c, 0],
    ...[0x0b, 0x0b],
  ];

  /** Repeats the body at least once, while the condition holds. */
  until = (body: number[], condition: number[]) => [0x03, 0x40, ...body, ...condition, 0x0d, 0, 0x0b];

  finish(body: number[]): number[] {
    const locals = list(this.kinds.map((kind) => [1, kind]));
    const whole = [...locals, ...body, 0x0b];
    return [...size(whole.length), ...whole];
  }
}

const i32 = (value: number) => [0x41, ...leb(value)];
const add = (a: number[], b: number[]) => [...a, ...b, 0x6a];
const multiply = (a: number[], b: number[]) => [...a, ...b, 0x6c];
const less = (a: number[], b: number[]) => [...a, ...b, 0x48];
const and = (a: number[], b: number[]) => [...a, ...b, 0x71];
const f64Load = (at: number[], offset = 0) => [...at, 0x2b, 3, ...size(offset)];
const vLoad = (at: number[]) => [...at, 0xfd, ...size(0x00), 3, 0];
const vStore = (at: number[], value: number[]) => [...at, ...value, 0xfd, ...size(0x0b), 3, 0];
const splat = (value: number[]) => [...value, 0xfd, ...size(0x14)];
const vAdd = (a: number[], b: number[]) => [...a, ...b, 0xfd, ...size(0xf0)];
const vSubtract = (a: number[], b: number[]) => [...a, ...b, 0xfd, ...size(0xf1)];
const vMultiply = (a: number[], b: number[]) => [...a, ...b, 0xfd, ...size(0xf2)];

/**
 * panel(address, lead, width): Cholesky of the first `width` columns of a panel; 1 when all pivots are positive.
 * `lead` is the distance of columns in bytes, a multiple of 16; loops begin at even rows, so that every step takes two
 * numbers of one column.
 */
function panelCode(): number[] {
  const c = new Code(['panel', 'lead', 'width']);
  for (const name of ['j', 'p', 'i', 'start', 'target', 'a', 'b', 'c', 'd']) c.local(name, I32);
  for (const name of ['ka', 'kb', 'kc', 'kd']) c.local(name, V128);
  c.local('pivot', F64);
  const { get, set } = c;
  const row = (column: string) => add(get(column), get('i'));
  const factor = (column: string) => splat(f64Load(add(get(column), multiply(get('j'), i32(8)))));
  const product = (factorName: string, column: string) => vMultiply(get(factorName), vLoad(row(column)));
  const overRows = (body: number[]) => [
    ...set('i', get('start')),
    ...c.until([...body, ...set('i', add(get('i'), i32(16)))], less(get('i'), get('lead'))),
  ];
  const column = (name: string, of: number[]) => set(name, add(get('panel'), multiply(of, get('lead'))));
  const fourAtATime = c.while(less(add(get('p'), i32(3)), get('j')), [
    ...column('a', get('p')),
    ...set('b', add(get('a'), get('lead'))),
    ...set('c', add(get('b'), get('lead'))),
    ...set('d', add(get('c'), get('lead'))),
    ...set('ka', factor('a')),
    ...set('kb', factor('b')),
    ...set('kc', factor('c')),
    ...set('kd', factor('d')),
    ...overRows(
      vStore(
        row('target'),
        vSubtract(
          vLoad(row('target')),
          vAdd(vAdd(product('ka', 'a'), product('kb', 'b')), vAdd(product('kc', 'c'), product('kd', 'd'))),
        ),
      ),
    ),
    ...set('p', add(get('p'), i32(4))),
  ]);
  const oneAtATime = c.while(less(get('p'), get('j')), [
    ...column('a', get('p')),
    ...set('ka', factor('a')),
    ...overRows(vStore(row('target'), vSubtract(vLoad(row('target')), product('ka', 'a')))),
    ...set('p', add(get('p'), i32(1))),
  ]);
  const body = [
    ...c.while(less(get('j'), get('width')), [
      ...column('target', get('j')),
      ...set('start', multiply(and(get('j'), i32(-2)), i32(8))),
      ...set('p', i32(0)),
      ...fourAtATime,
      ...oneAtATime,
      ...set('pivot', f64Load(add(get('target'), multiply(get('j'), i32(8))))),
      // if not pivot > 0 return 0
      ...[...get('pivot'), 0x44, 0, 0, 0, 0, 0, 0, 0, 0, 0x64, 0x45, 0x04, 0x40, ...i32(0), 0x0f, 0x0b],
      // ka = 1 / sqrt(pivot)
      ...set('ka', splat([0x44, 0, 0, 0, 0, 0, 0, 0xf0, 0x3f, ...get('pivot'), 0x9f, 0xa3])),
      ...overRows(vStore(row('target'), vMultiply(vLoad(row('target')), get('ka')))),
      ...set('j', add(get('j'), i32(1))),
    ]),
    ...i32(1),
  ];
  return c.finish(body);
}

/**
 * outer(base, lead, width, update, updateLead, rest): update -= B B', lower half, B being `rest` rows from `base` on.
 * Two columns of the update by four of B at a time. What falls above the diagonal or below the last row is waste.
 */
function outerCode(): number[] {
  const c = new Code(['base', 'lead', 'width', 'update', 'updateLead', 'rest']);
  const addresses = ['j', 'p', 'i', 'start', 'end', 'left', 'right', 'a', 'b', 'c', 'd', 'at'];
  for (const name of addresses) c.local(name, I32);
  for (const name of ['la', 'lb', 'lc', 'ld', 'ra', 'rb', 'rc', 'rd', 'va', 'vb', 'vc', 'vd'])
    c.local(name, V128);
  const { get, set } = c;
  const row = (column: string) => add(get(column), get('i'));
  const product = (factorName: string, value: string) => vMultiply(get(factorName), get(value));
  const letters = ['a', 'b', 'c', 'd'];
  const sum = (side: string, count: number) =>
    count === 1
      ? product(`${side}a`, 'va')
      : vAdd(
          vAdd(product(`${side}a`, 'va'), product(`${side}b`, 'vb')),
          vAdd(product(`${side}c`, 'vc'), product(`${side}d`, 'vd')),
        );
  const take = (column: string, side: string, count: number) =>
    vStore(row(column), vSubtract(vLoad(row(column)), sum(side, count)));
  /** Columns of B from number p on, their factors, and one pass over the rows. */
  const pass = (count: number, columns: 1 | 2) => [
    ...set('a', add(get('base'), multiply(get('p'), get('lead')))),
    ...letters.slice(1, count).flatMap((name, k) => set(name, add(get(letters[k]!), get('lead')))),
    ...letters
      .slice(0, count)
      .flatMap((name) => [
        ...set('at', add(get(name), multiply(get('j'), i32(8)))),
        ...set(`l${name}`, splat(f64Load(get('at')))),
        ...(columns === 2 ? set(`r${name}`, splat(f64Load(get('at'), 8))) : []),
      ]),
    ...set('i', get('start')),
    ...c.until(
      [
        ...letters.slice(0, count).flatMap((name) => set(`v${name}`, vLoad(row(name)))),
        ...take('left', 'l', count),
        ...(columns === 2 ? take('right', 'r', count) : []),
        ...set('i', add(get('i'), i32(16))),
      ],
      less(get('i'), get('end')),
    ),
    ...set('p', add(get('p'), i32(count))),
  ];
  const overColumns = (columns: 1 | 2) => [
    ...set('p', i32(0)),
    ...set('start', multiply(and(get('j'), i32(-2)), i32(8))),
    ...set('left', add(get('update'), multiply(get('j'), get('updateLead')))),
    ...set('right', add(get('left'), get('updateLead'))),
    ...c.while(less(add(get('p'), i32(3)), get('width')), pass(4, columns)),
    ...c.while(less(get('p'), get('width')), pass(1, columns)),
  ];
  const body = [
    ...set('end', multiply(get('rest'), i32(8))),
    ...c.while(less(add(get('j'), i32(1)), get('rest')), [
      ...overColumns(2),
      ...set('j', add(get('j'), i32(2))),
    ]),
    ...c.while(less(get('j'), get('rest')), [...overColumns(1), ...set('j', add(get('j'), i32(1)))]),
  ];
  return c.finish(body);
}

/** The module: imports the memory `m.m`, exports `panel` and `outer`. */
export function kernelModule(): Uint8Array {
  const types = list([
    [0x60, ...list([[I32], [I32], [I32]]), ...list([[I32]])],
    [0x60, ...list([[I32], [I32], [I32], [I32], [I32], [I32]]), ...list([])],
  ]);
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
    ...section(1, types),
    ...section(2, list([[...text('m'), ...text('m'), 0x02, 0x00, 0x01]])),
    ...section(3, list([[0], [1]])),
    ...section(
      7,
      list([
        [...text('panel'), 0x00, 0],
        [...text('outer'), 0x00, 1],
      ]),
    ),
    ...section(10, list([panelCode(), outerCode()])),
  ]);
}
