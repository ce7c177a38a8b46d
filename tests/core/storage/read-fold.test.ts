import { describe, expect, test } from 'vitest';
import { lineKinds } from '../../../src/core/sheet/kind.ts';
import { openText, sheetOf } from './help.ts';

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
