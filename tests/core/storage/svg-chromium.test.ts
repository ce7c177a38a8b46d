/**
 * An independent general renderer as witness: what Chromium 156.0.8078.114 computed for 150 random style sheets and 120 random
 * placings of an inner svg (tests/fixtures/ask-chromium.mjs). It draws by the same standards and shares no code.
 */
import { describe, expect, test } from 'vitest';
import { fixture, openText } from './help.ts';

interface Answers {
  readonly sheets: readonly {
    readonly svg: string;
    readonly lines: readonly { readonly stroke: string; readonly width: number; readonly shown: boolean }[];
  }[];
  readonly views: readonly { readonly svg: string; readonly ends: readonly number[] }[];
}

const answers = JSON.parse(new TextDecoder().decode(fixture('drawings/chromium.json'))) as Answers;

/** "rgb(1, 2, 3)" or "rgba(1, 2, 3, 0.5)" as #rrggbb. */
const hexOf = (colour: string) =>
  `#${(colour.match(/\d+/g) ?? [])
    .slice(0, 3)
    .map((part) => Number(part).toString(16).padStart(2, '0'))
    .join('')}`;

/** Strokes with their looks, from the top of the drawing down. */
function strokesOf(text: string) {
  const opened = openText('x.svg', text);
  if (opened.kind !== 'drawing') return [];
  const { strokes, groupOf, groups } = opened.drawing;
  return strokes.map((stroke, index) => ({ ...stroke, ...groups[groupOf[index]!]! }));
}

describe('style sheets', () => {
  test.each(answers.sheets.map(({ svg, lines }, index) => ({ index, svg, lines })))(
    '$index',
    ({ svg, lines }) => {
      const wanted = lines.flatMap(({ stroke, width, shown }, y) =>
        shown && stroke !== 'none' ? [{ y, colour: hexOf(stroke), width: Number(width.toFixed(3)) }] : [],
      );
      const found = strokesOf(svg).map(({ y1, colour, width }) => ({
        y: 10 - y1,
        colour,
        width: Number(width.toFixed(3)),
      }));
      expect(found).toEqual(wanted);
    },
  );
});

describe('view ports, aspect ratios, units and transforms', () => {
  test.each(answers.views.map(({ svg, ends }, index) => ({ index, svg, ends })))(
    '$index',
    ({ svg, ends }) => {
      const [stroke] = strokesOf(svg);
      const found = stroke ? [stroke.x1, 100 - stroke.y1, stroke.x2, 100 - stroke.y2] : [];
      expect(found).toHaveLength(4);
      // it keeps numbers to single precision
      found.forEach((value, i) =>
        expect(Math.abs(value - ends[i]!)).toBeLessThan(1e-3 + 1e-5 * Math.abs(ends[i]!)),
      );
    },
  );
});
