/** The panel that stays where none is named. */
import { describe, expect, it } from 'vitest';
import { mainPanel, panelArea } from '../../../src/core/sheet/walk.ts';
import { stripSheet } from '../../support/faces.ts';

describe('the largest panel', () => {
  it.each([[[1, 2, 5, 3]], [[4, 1, 1]], [[1, 1, 9]]])(
    'of a strip cut at %j is its longest piece',
    (lengths) => {
      const sheet = stripSheet(lengths, Array(lengths.length - 1).fill(180));
      const share = (panel: number) => {
        const all = Array.from(sheet.panelRings.keys(), (one) => panelArea(sheet, one));
        return all[panel]! / all.reduce((sum, one) => sum + one, 0);
      };
      const total = lengths.reduce((sum, one) => sum + one, 0);
      expect(share(mainPanel(sheet))).toBeCloseTo(Math.max(...lengths) / total, 9);
    },
  );

  it('is the first of equal ones', () => {
    expect(mainPanel(stripSheet([1, 1, 1, 1], [180, -180, 180]))).toBe(0);
  });
});
