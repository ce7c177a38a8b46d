/** Lines cut to clip paths and view ports: CSS Masking 1, section 5; SVG 2, 14.3. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { seenParts } from '../../../src/core/storage/drawing/clip.ts';
import { Work } from '../../../src/core/storage/drawing/work.ts';
import { linesOf, notesOf } from './svg-help.ts';

const clipped = (shape: string, lines: string, attributes = '') =>
  `<clipPath id="k" ${attributes}>${shape}</clipPath><g clip-path="url(#k)" stroke="#000" stroke-width="0.1">${lines}</g>`;
const across = '<path d="M0 5H10"/>';
const cutNote = (count: number) =>
  `${count} ${count === 1 ? 'line is' : 'lines are'} cut or left out where a clip path or a view port hides them (first at line 1 (path)): release the clip in the drawing program if more of them is wanted.`;

describe('clip paths of straight shapes', () => {
  test.each([
    ['a rect', '<rect x="2" y="2" width="5" height="6"/>', ['2 5 7 5']],
    ['a polygon', '<polygon points="0 0 10 0 0 10"/>', ['0 5 5 5']],
    ['a polyline is closed for it', '<polyline points="0 0 10 0 0 10"/>', ['0 5 5 5']],
    ['a concave one', '<path d="M0 0H10V10H7V3H3V10H0Z"/>', ['0 5 3 5', '7 5 10 5']],
    [
      'two shapes side by side',
      '<rect width="2" height="9"/><rect x="6" width="1" height="9"/>',
      ['0 5 2 5', '6 5 7 5'],
    ],
    ['two that overlap', '<rect width="4" height="9"/><rect x="3" width="3" height="9"/>', ['0 5 6 5']],
    ['a hole by nonzero: none', '<path d="M0 0H9V9H0ZM3 3H6V6H3Z"/>', ['0 5 9 5']],
    ['a hole by nonzero, wound backwards', '<path d="M0 0H9V9H0ZM3 3V6H6V3Z"/>', ['0 5 3 5', '6 5 9 5']],
    ['a hole by evenodd', '<path clip-rule="evenodd" d="M0 0H9V9H0ZM3 3H6V6H3Z"/>', ['0 5 3 5', '6 5 9 5']],
    [
      'clip-rule inherited',
      '<path d="M0 0H9V9H0ZM3 3H6V6H3Z"/>',
      ['0 5 3 5', '6 5 9 5'],
      'clip-rule="evenodd"',
    ],
    ['a transform of the shape', '<rect transform="translate(2)" width="5" height="9"/>', ['2 5 7 5']],
    ['a transform of the clip path', '<rect width="5" height="9"/>', ['1 5 6 5'], 'transform="translate(1)"'],
    ['a use of a shape', '<use href="#r" x="1"/>', ['3 5 5 5']],
    [
      'hidden shapes add nothing',
      '<rect display="none" width="9" height="9"/><rect visibility="hidden" width="9" height="9"/><rect width="1" height="9"/>',
      ['0 5 1 5'],
    ],
    [
      'the box of what is clipped',
      '<rect x="0.25" width="0.5" height="1"/>',
      ['2.5 5 7.5 5'],
      'clipPathUnits="objectBoundingBox"',
    ],
    [
      'a clip path of a clip path',
      '<rect x="2" y="2" width="5" height="6"/>',
      ['4 5 7 5'],
      'clip-path="url(#right)"',
    ],
  ])('%s', (_name, shape, wanted, attributes = '') => {
    const others =
      '<defs><rect id="r" x="2" width="2" height="9"/></defs><clipPath id="right"><rect x="4" width="9" height="9"/></clipPath>';
    // the corner point gives the box of the group a height
    const inside = `${others}${clipped(shape, `${across}<path d="M0 0V0M0 10V10"/>`, attributes)}`;
    expect(linesOf(inside).filter((one) => one.split(' ')[0] !== one.split(' ')[2])).toEqual(wanted);
  });

  test('a line that is cut, one that is hidden, one that is whole: what is cut is counted', () => {
    const inside = clipped(
      '<rect x="2" y="2" width="5" height="6"/>',
      `${across}<path d="M0 9H9"/><path d="M3 3H4"/>`,
    );
    expect(linesOf(inside)).toEqual(['2 5 7 5', '3 7 4 7']);
    expect(notesOf(inside)).toEqual([cutNote(2)]);
  });

  test('a line along the edge shows half its width, and so does one a little beside it', () => {
    const frame = '<rect width="10" height="10"/>';
    const inside = (gap: number) => clipped(frame, `<path d="M0 ${-gap}H10"/><path d="M0 1H10"/>`);
    expect(linesOf(inside(0))).toEqual(['0 10 10 10', '0 9 10 9']);
    expect(linesOf(inside(0.04))).toEqual(['0 10.04 10 10.04', '0 9 10 9']);
    expect(linesOf(inside(0.06))).toEqual(['0 9 10 9']);
  });

  test('the outline of a sheet clipped to itself is whole, and nothing is said', () => {
    const inside = clipped('<rect width="10" height="10"/>', '<rect width="10" height="10"/>');
    expect(linesOf(inside)).toHaveLength(4);
    expect(notesOf(inside)).toEqual([]);
  });

  test('an empty clip path hides everything (CSS Masking 1, 5.1)', () => {
    const inside = `${clipped('', across)}<path d="M0 0H1" stroke="#000"/>`;
    expect(linesOf(inside)).toEqual(['0 10 1 10']);
  });

  test.each([
    ['a circle', '<circle r="5"/>'],
    ['a path with a curve', '<path d="M0 0Q5 5 9 0Z"/>'],
    ['a text', '<text>K</text>'],
    ['a shape with a clip path of its own', '<rect clip-path="url(#k)" width="5" height="5"/>'],
  ])('%s is not followed: named, and the line kept', (_name, shape) => {
    expect(linesOf(clipped(shape, across))).toEqual(['0 5 10 5']);
    expect(notesOf(clipped(shape, across))).toEqual([
      '1 × clip-path in the drawing not followed (first at line 1 (g)), and lines kept as if it were not there: apply or remove it in the drawing program if they look otherwise.',
    ]);
  });

  test.each(['url(#nothing)', 'url(other.svg#k)', 'circle(3px)', 'inset(1px)'])(
    'so is clip-path: %s',
    (value) => {
      const inside = `<path style="clip-path:${value}" d="M0 5H10" stroke="#000"/>`;
      expect(linesOf(inside)).toEqual(['0 5 10 5']);
      expect(notesOf(inside)).toHaveLength(1);
    },
  );
});

describe('view ports (SVG 2, 8.2 and the style sheet of the user agent)', () => {
  const inner = (attributes: string) =>
    linesOf(`<svg x="1" y="1" width="4" height="4" ${attributes}><path d="M-9 2H9" stroke="#000"/></svg>`);

  test('an inner svg hides what is outside, unless it overflows', () => {
    expect(inner('')).toEqual(['1 7 5 7']);
    expect(inner('overflow="visible"')).toEqual(['-8 7 10 7']);
    expect(inner('style="overflow:auto"')).toEqual(['-8 7 10 7']);
    expect(inner('overflow="scroll"')).toEqual(['1 7 5 7']);
  });

  test('so does a symbol; the page itself hides nothing', () => {
    const symbol = '<symbol id="s"><path d="M-9 2H9" stroke="#000"/></symbol>';
    expect(linesOf(`${symbol}<use href="#s" x="1" width="3" height="5"/>`)).toEqual(['1 8 4 8']);
    expect(linesOf('<path d="M-9 2H30" stroke="#000"/>')).toEqual(['-9 8 30 8']);
  });
});

/** Is a point in a polygon, by the sum of the angles under which it sees the sides: slow, and another method. */
function seesAround(x: number, y: number, ring: readonly (readonly [number, number])[]): boolean {
  let sum = 0;
  ring.forEach(([px, py], i) => {
    const [qx, qy] = ring[(i + 1) % ring.length]!;
    const turn = Math.atan2(qy - y, qx - x) - Math.atan2(py - y, px - x);
    sum += turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI));
  });
  return Math.round(sum / (2 * Math.PI)) !== 0;
}

test('random polygons, concave and crossed: the parts are those of which every point is inside (seed 12)', () => {
  const place = fc.integer({ min: 0, max: 1_000_000 }).map((n) => n / 100_000);
  const point = fc.tuple(place, place);
  let kept = 0;
  fc.assert(
    fc.property(fc.array(point, { minLength: 3, maxLength: 9 }), point, point, place, (ring, a, b, share) => {
      const parts = seenParts(a, b, [{ rings: [ring], evenOdd: false }], 0, new Work(0));
      const t = share / 10;
      const [x, y] = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
      // points within a hair of a side belong to either
      const isNear = ring.some(([px, py], i) => {
        const [qx, qy] = ring[(i + 1) % ring.length]!;
        const along = Math.hypot(qx - px, qy - py);
        return along < 1e-6 || Math.abs((qx - px) * (y - py) - (qy - py) * (x - px)) / along < 1e-6;
      });
      fc.pre(!isNear && Math.hypot(a[0] - b[0], a[1] - b[1]) > 1e-6);
      const isKept = parts.some(([from, to]) => t >= from && t <= to);
      if (isKept) kept++;
      expect(isKept).toBe(seesAround(x, y, ring));
    }),
    { seed: 12, numRuns: 1500 },
  );
  expect(kept).toBeGreaterThan(100);
});
