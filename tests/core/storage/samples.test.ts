import { describe, expect, test } from 'vitest';
import { interiorVertices } from '../../../src/core/sheet/walk.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { fixture, patternOf, sampleLesson, sheetOf } from './help.ts';

// Panels and interior vertices: counted on paper from the descriptions of the patterns.
const samples = [
  ['s1', 'pencil-case.json', 19, 8],
  ['s2', 'cuffed-tray.json', 19, 8],
  ['s3', 'ticket-wallet.json', 12, 6],
  ['s4', 'twist-coaster.json', 25, 16],
  ['s5', 'planter-sleeve.json', 21, 8],
] as const;

describe.each(samples)('sample %s', (base, lesson, panels, interior) => {
  const wanted = patternOf(sheetOf(openFile(lesson, sampleLesson(lesson))));

  test('its lesson has the panels and corners counted by hand', () => {
    const sheet = sheetOf(openFile(lesson, sampleLesson(lesson)));
    expect(sheet.panelRings.length).toBe(panels);
    expect(interiorVertices(sheet).length).toBe(interior);
  });

  test.each(['svg', 'dxf', 'fold'])('as .%s it is the same pattern, without a mapping step', (ending) => {
    const opened = openFile(`${base}.${ending}`, fixture(`${base}.${ending}`));
    expect(opened.findings).toEqual([]);
    if (opened.kind === 'drawing') expect(opened.named).toBe(true);
    expect(patternOf(sheetOf(opened))).toEqual(wanted);
  });

  test('its .fold file keeps the numbers of vertices, edges and faces', () => {
    const bytes = fixture(`${base}.fold`);
    const file = JSON.parse(new TextDecoder().decode(bytes));
    const sheet = sheetOf(openFile('x', bytes));
    expect(Array.from(sheet.creaseFrom, (from, e) => [from, sheet.creaseTo[e]])).toEqual(file.edges_vertices);
    sheet.panelRings.forEach((rings, panel) => {
      const ring: number[] = [];
      let half = rings[0]!;
      do {
        ring.push((half & 1 ? sheet.creaseTo : sheet.creaseFrom)[half >> 1]!);
        half = sheet.halfEdgeNext[half]!;
      } while (half !== rings[0]);
      expect(ring.sort()).toEqual([...file.faces_vertices[panel]].sort());
    });
  });
});

test.each(['tapered-case.json', ...samples.map(([, lesson]) => lesson)])(
  '%s states its permission and what it allows',
  (name) => {
    const { credit } = JSON.parse(new TextDecoder().decode(sampleLesson(name)));
    expect(credit.permission).toBe('own');
    expect(credit.allowed).toEqual(['teach-free', 'teach-paid', 'film', 'print', 'post']);
  },
);

describe('drawings saved by other programs', () => {
  const wallet = patternOf(sheetOf(openFile('x', sampleLesson('ticket-wallet.json'))));

  /** The wallet turned a quarter clockwise on the sheet: (x, y) goes to (y, 1 - x). */
  function turned(pattern: string[]): string[] {
    return pattern
      .map((line) => {
        const [a, b, ...rest] = line.split(' ') as [string, string, ...string[]];
        const move = (point: string) => {
          const [x, y] = point.split(',').map(Number) as [number, number];
          return `${y.toFixed(6)},${(1 - x + 0).toFixed(6)}`;
        };
        return [...[move(a), move(b)].sort(), ...rest].join(' ');
      })
      .sort();
  }

  test('Inkscape SVG with layers, clone, transforms and styles: kinds from dashes, turned a quarter', () => {
    const opened = openFile('x', fixture('inkscape-layers.svg'));
    expect(opened.kind === 'drawing' && opened.drawing.millimetres).toBe(1);
    expect(patternOf(sheetOf(opened))).toEqual(turned(wallet));
    expect(new Set(opened.findings.map((finding) => finding.code))).toEqual(
      new Set(['line-kind-guessed', 'angle-assumed']),
    );
  });

  test('Inkscape plain SVG of paths only', () => {
    expect(patternOf(sheetOf(openFile('x', fixture('inkscape-plain.svg'))))).toEqual(wallet);
  });

  test('ezdxf R2010: blocks in blocks, mirrored inserts, hidden layer, text', () => {
    const opened = openFile('x', fixture('ezdxf-blocks.dxf'));
    expect(opened.kind === 'drawing' && opened.named && opened.drawing.millimetres).toBe(1);
    const tray = patternOf(sheetOf(openFile('x', sampleLesson('cuffed-tray.json'))));
    expect(patternOf(sheetOf(opened))).toEqual(tray);
  });

  test('ezdxf R12: kinds from the line types of lines and layers', () => {
    const opened = openFile('x', fixture('ezdxf-linetypes.dxf'));
    expect(opened.kind === 'drawing' && opened.named).toBe(false);
    expect(patternOf(sheetOf(opened))).toEqual(wallet);
  });
});
