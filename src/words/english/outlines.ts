/** What keeps corners from being a sheet. */
import type { OutlineTrouble } from '../../core/draw/outline.ts';

export function outlineTrouble(trouble: OutlineTrouble): string {
  switch (trouble.how) {
    case 'few-corners':
      return 'A sheet has at least three corners: give more.';
    case 'no-numbers':
      return 'A corner is no pair of numbers: write it as 40, 25.';
    case 'one-line':
      return 'All corners lie on one line: move one of them.';
    case 'corners-meet': {
      const [a, b] = trouble.corners;
      return `Corners ${a + 1} and ${b + 1} lie on each other: leave one out.`;
    }
    case 'sides-cross': {
      const [a, b] = trouble.corners;
      return `The sides after corners ${a + 1} and ${b + 1} cross: give the corners in order round the sheet.`;
    }
    case 'size':
      return `A sheet is from ${trouble.least} to ${trouble.most} mm long, and this one is ${trouble.size} mm: give other corners.`;
  }
}
