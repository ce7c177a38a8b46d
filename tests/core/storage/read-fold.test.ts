import { describe, expect, test } from 'vitest';
import { lineKinds } from '../../../src/core/sheet/kind.ts';
import { openFile } from '../../../src/core/storage/open.ts';
import { fixture, openText, refusalOf, sheetOf } from './help.ts';

// The FOLD 1.2 text: assignments B M V F U C J, fold angles in degrees, frames with inheritance.
const base = {
  vertices_coords: [
    [0, 0],
    [2, 0],
    [2, 2],
    [0, 2],
  ],
  edges_vertices: [
    [0, 1],
    [1, 2],
    [2, 3],
    [3, 0],
    [0, 2],
  ],
  edges_assignment: ['B', 'B', 'B', 'B', 'M'],
};
const open = (changes: object) => openText('model.fold', JSON.stringify({ ...base, ...changes }));
const diagonal = (changes: object) => {
  const sheet = sheetOf(open(changes));
  return [lineKinds[sheet.creaseKind[4]!], Math.round((sheet.creaseAngle[4]! * 180) / Math.PI)];
};

describe('kinds and angles', () => {
  test.each([
    ['M', undefined, 'mountain', -180],
    ['V', undefined, 'valley', 180],
    ['v', undefined, 'valley', 180],
    ['F', undefined, 'flat', 0],
    ['J', undefined, 'flat', 0],
    ['U', null, 'unassigned', Number.NaN],
    ['U', 30, 'unassigned', 30],
    ['M', -45, 'mountain', -45],
    ['M', 0, 'mountain', 0],
    ['V', null, 'valley', 180],
  ])('%s with %s', (letter, angle, kind, degrees) => {
    const angles = angle === undefined ? {} : { edges_foldAngle: [0, 0, 0, 0, angle] };
    expect(diagonal({ edges_assignment: ['B', 'B', 'B', 'B', letter], ...angles })).toEqual([kind, degrees]);
  });

  test('half turns that had to be assumed are noted, once', () => {
    expect(open({}).findings.map(({ code }) => code)).toEqual(['angle-assumed']);
  });

  test('an angle that contradicts its letter counts, with a warning', () => {
    const angles = { edges_foldAngle: [0, 0, 0, 0, 20] };
    expect(diagonal(angles)).toEqual(['valley', 20]);
    expect(open(angles).findings.map(({ code }) => code)).toEqual(['kind-flipped']);
  });

  test('without letters the sign of the angle tells, and faces tell the rim', () => {
    const faces = {
      faces_vertices: [
        [0, 1, 2],
        [0, 2, 3],
      ],
      edges_assignment: undefined,
    };
    expect(diagonal({ ...faces, edges_foldAngle: [0, 0, 0, 0, -20] })).toEqual(['mountain', -20]);
  });
});

describe('frames', () => {
  const shape = base.vertices_coords.map(([x, y], i) => [x, y, i % 2]);

  test('a folded first frame gives way to the flat pattern in a later one, which inherits', () => {
    const frames = [
      {
        frame_inherit: true,
        frame_parent: 0,
        frame_classes: ['creasePattern'],
        vertices_coords: base.vertices_coords,
      },
    ];
    const opened = open({
      vertices_coords: shape,
      frame_classes: ['foldedForm'],
      file_frames: frames,
      edges_foldAngle: [0, 0, 0, 0, -90],
    });
    expect(sheetOf(opened).creaseKind.length).toBe(5);
    expect(sheetOf(opened).creaseAngle[4]).toBeCloseTo(-Math.PI / 2, 12);
  });

  test('the frame called crease pattern goes before a flat-folded shape', () => {
    const folded = base.vertices_coords.map(([x]) => [x, x]);
    const frames = [
      { frame_inherit: true, frame_classes: ['creasePattern'], vertices_coords: base.vertices_coords },
    ];
    expect(sheetOf(open({ vertices_coords: folded, file_frames: frames })).panelRings.length).toBe(2);
  });

  test('title, unit, and the frame back to the coordinates of the file', () => {
    const opened = open({ file_title: 'Star', frame_unit: 'cm' });
    expect(opened).toMatchObject({ kind: 'sheet', title: 'Star', millimetres: 10 });
    expect(sheetOf(opened).frame.scale).toBe(2);
  });
});

/** A child of the first frame with these entries. */
const heir = (changes: object) => ({ frame_inherit: true, frame_parent: 0, ...changes });
const raised = (heights: readonly unknown[]) =>
  base.vertices_coords.map((point, vertex) => [...point, heights[vertex]]);
const folded =
  'This FOLD file holds a folded shape and no flat pattern: save the flat crease pattern as a frame and open that.';

describe('the saved files', () => {
  const opened = (name: string) => openFile(name, fixture(`drawings/${name}`));

  test('fold-z5.fold: a pattern at height 5 is flat', () => {
    const sheet = sheetOf(opened('fold-z5.fold'));
    expect([sheet.panelRings.length, sheet.creaseKind.length, sheet.vertexX.length]).toEqual([4, 12, 9]);
  });

  test('fold-flatfoldedfirst.fold: refused with the reason alone, no note beside it', () => {
    expect(refusalOf(opened('fold-flatfoldedfirst.fold'))).toEqual({
      code: 'file-unreadable',
      message: folded,
    });
  });

  test('fold-unitfn.fold: a unit that the format does not know', () => {
    expect(refusalOf(opened('fold-unitfn.fold')).message).toBe(
      'The frame_unit "constructor" is no unit of the FOLD format: write one of unit, in, pt, m, cm, mm, um, nm, or leave it out.',
    );
  });
});

// FOLD 1.2, frame_unit: unit (as good as none), in, pt (1/72 in), m, cm, mm, um, nm
describe('units', () => {
  test.each([
    ['unit', null],
    [undefined, null],
    ['in', 25.4],
    ['pt', 25.4 / 72],
    ['m', 1000],
    ['cm', 10],
    ['mm', 1],
    ['um', 0.001],
    ['nm', 0.000001],
  ])('%s', (frame_unit, millimetres) => {
    expect(open({ frame_unit })).toMatchObject({ kind: 'sheet', millimetres });
  });

  test.each(['MM', 'inch', '', 'toString', '__proto__', 'hasOwnProperty'])('"%s" is none', (frame_unit) => {
    expect(refusalOf(open({ frame_unit })).message).toContain(`The frame_unit "${frame_unit}" is no unit`);
  });

  test.each([
    [5, '"5"'],
    [['mm'], '"a list"'],
    [{}, '"an object"'],
  ])('%j is none', (frame_unit, shown) => {
    expect(refusalOf(open({ frame_unit })).message).toContain(`The frame_unit ${shown} is no unit`);
  });
});

describe('keys that every object has are no entries', () => {
  test.each(['constructor', '__proto__', 'toString'])('the letter "%s"', (letter) => {
    const letters = ['B', 'B', 'B', 'B', letter];
    expect(refusalOf(open({ edges_assignment: letters })).message).toContain(
      `At edges_assignment, entry 4, "${letter}" is none of B, M, V`,
    );
  });

  test('entries of a prototype in the text are not inherited', () => {
    const text = `{"__proto__": ${JSON.stringify(base)}, "file_spec": 1.2}`;
    expect(refusalOf(openText('a.fold', text)).message).toContain('no vertices_coords');
    expect(refusalOf(openText('a.fold', `{"__proto__": ${JSON.stringify(base)}}`)).message).toContain(
      'neither',
    );
  });

  test('a frame_parent by such a name', () => {
    const frames = [heir({ frame_parent: 'constructor' })];
    expect(refusalOf(open({ file_frames: frames })).message).toBe(
      'Frame 1 of the FOLD file inherits from frame constructor, which is not there: correct frame_parent.',
    );
  });
});

describe('heights', () => {
  test.each([
    ['one height', [-7, -7, -7, -7]],
    ['dust', [0, 1e-9, -1e-9, 0]],
    ['dust on a height', [3, 3 + 1e-9, 3, 3]],
  ])('%s is flat', (_, heights) => {
    expect(sheetOf(open({ vertices_coords: raised(heights) })).panelRings.length).toBe(2);
  });

  test('a corner raised by a hundredth of the sheet is folded', () => {
    expect(refusalOf(open({ vertices_coords: raised([0, 0.02, 0, 0]) })).message).toBe(folded);
  });

  test.each([
    ['text', ['x', 0, 0, 0], '"x" is not a number'],
    ['null', [null, 0, 0, 0], '"null" is not a number'],
    ['beyond all bounds', [1e12, 1e12, 1e12, 1e12], 'is larger than 1000000000'],
  ])('%s is refused with its place', (_, heights, words) => {
    const { message } = refusalOf(open({ vertices_coords: raised(heights) }));
    expect(message).toContain('At vertices_coords, entry 0');
    expect(message).toContain(words);
  });

  test('a fourth coordinate is not dropped', () => {
    const points = raised([0, 0, 0, 0]).map((point) => [...point, 4]);
    expect(refusalOf(open({ vertices_coords: points })).message).toBe(
      'At vertices_coords, entry 0, a point [x, y] or [x, y, z] is wanted: correct it and open the file again.',
    );
  });
});

// FOLD 1.2, frame_classes: foldedForm is a folded state, flat-folded ones included
describe('a frame called folded form that lies flat', () => {
  const form = { frame_classes: ['foldedForm'] };

  test('is read where it is not folded yet', () => {
    expect(sheetOf(open(form)).panelRings.length).toBe(2);
  });

  test('is refused where it is folded in half: one corner lies on another', () => {
    const halved = [
      [0, 0],
      [2, 0],
      [2, 2],
      [2, 0],
    ];
    expect(refusalOf(open({ ...form, vertices_coords: halved })).message).toBe(folded);
  });

  test('is refused where one corner is folded in and no line covers another', () => {
    // a square of 4 with the corner (4, 4) folded along x + y = 6 to (2, 2)
    const dogEar = {
      vertices_coords: [
        [0, 0],
        [4, 0],
        [4, 2],
        [2, 2],
        [2, 4],
        [0, 4],
      ],
      edges_vertices: [
        [0, 1],
        [1, 2],
        [2, 3],
        [3, 4],
        [4, 5],
        [5, 0],
        [2, 4],
      ],
      edges_assignment: ['B', 'B', 'B', 'B', 'B', 'B', 'V'],
    };
    expect(refusalOf(open({ ...form, ...dogEar })).message).toBe(folded);
  });

  test('gives way to a later flat frame that is not called so', () => {
    const halved = base.vertices_coords.map(([x]) => [x, x]);
    const frames = [heir({ frame_classes: [], vertices_coords: base.vertices_coords })];
    expect(sheetOf(open({ ...form, vertices_coords: halved, file_frames: frames })).panelRings.length).toBe(
      2,
    );
  });
});

describe('lists of frames', () => {
  test.each([
    [{}, 'The entry file_frames of the FOLD file is not a list: correct it.'],
    [
      [heir({}), 7],
      'At file_frames, entry 1, an object with the entries of a frame is wanted: correct it and open the file again.',
    ],
  ])('%j', (file_frames, sentence) => {
    expect(refusalOf(open({ file_frames })).message).toBe(sentence);
  });

  test('a parent counts only where a frame inherits', () => {
    expect(open({ file_frames: [{ frame_parent: 99 }] }).kind).toBe('sheet');
  });

  test('an heir of an heir takes what neither has from the first, an entry of its own before others', () => {
    const pattern = { frame_parent: 1, frame_classes: ['creasePattern'], frame_title: 'Second' };
    const frames = [heir({ frame_unit: 'cm', frame_title: 'First' }), heir(pattern)];
    expect(open({ frame_classes: ['foldedForm'], file_frames: frames })).toMatchObject({
      kind: 'sheet',
      title: 'Second',
      millimetres: 10,
    });
  });
});

test('where the lines make no sheet, the one sentence is the error, not the note of assumed angles', () => {
  const lonely = { edges_vertices: [[0, 2]], edges_assignment: ['M'] };
  const opened = openText('a.fold', JSON.stringify({ ...base, ...lonely }));
  expect(opened.findings.map(({ severity }) => severity)).toEqual(['error']);
  expect(refusalOf(opened).code).toBe('outline-missing');
});
