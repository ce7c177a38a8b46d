import { describe, expect, it } from 'vitest';
import type { MotionReport, TrackPose } from '../../src/core/pose/track.ts';
import { buildSheet } from '../../src/core/sheet/build.ts';
import type { Segment } from '../../src/core/sheet/segment.ts';
import { TrackBoard } from '../../src/desk/play/board.ts';
import { linePaths, pickOnSheet, rimPath, walkFrom } from '../../src/interface/sheet/sheet-drawing.ts';

/** A unit square with one valley across the middle and a flat mark. */
function square() {
  const lines: Segment[] = [
    { x1: 0, y1: 0, x2: 1, y2: 0, kind: 'edge' },
    { x1: 1, y1: 0, x2: 1, y2: 1, kind: 'edge' },
    { x1: 1, y1: 1, x2: 0, y2: 1, kind: 'edge' },
    { x1: 0, y1: 1, x2: 0, y2: 0, kind: 'edge' },
    { x1: 0, y1: 0.5, x2: 1, y2: 0.5, kind: 'valley', angle: Math.PI },
    { x1: 0, y1: 0.75, x2: 1, y2: 0.75, kind: 'flat' },
  ];
  return buildSheet(lines).sheet!;
}

const sheet = square();
const fold = sheet.creaseKind.indexOf(1);
const report = { findings: [], outcome: 'rigid' } as unknown as MotionReport;

function pose(at: number, angle: number): TrackPose {
  const angles = new Float64Array(sheet.creaseKind.length);
  angles[fold] = angle;
  return { at, angle: angles };
}

function ended(poses: TrackPose[], reached = 1) {
  const end = { angle: poses.at(-1)!.angle, closes: true, deviation: 0, alone: false };
  return { sheet: null, panelOf: new Int32Array(), poses, reached, report, end };
}

describe('track board', () => {
  it('is flat before anything is known, and goes no further', () => {
    const board = new TrackBoard(sheet, 2, [0.5, 0.1]);
    expect(board.reached).toBe(0);
    expect(board.poseAt(1.5).angle[fold]).toBe(0);
  });

  it('blends neighbouring poses in proportion', () => {
    const board = new TrackBoard(sheet, 1, [0.5, 0.1]);
    board.endStep(0, ended([pose(0, 0), pose(0.5, 1), pose(1, 3)]));
    expect(board.poseAt(0.25).angle[fold]).toBeCloseTo(0.5, 12);
    expect(board.poseAt(0.75).angle[fold]).toBeCloseTo(2, 12);
    expect(board.poseAt(1).angle[fold]).toBe(3);
  });

  it('a second step begins where the first ended, and the place between belongs to both alike', () => {
    const board = new TrackBoard(sheet, 2, [0.5, 0.1]);
    board.endStep(0, ended([pose(0, 0), pose(1, 1)]));
    board.addPose(1, pose(0.5, 2));
    expect(board.reached).toBe(1.5);
    expect(board.poseAt(1).angle[fold]).toBe(1);
    expect(board.poseAt(1.25).angle[fold]).toBeCloseTo(1.5, 12);
  });

  it('a step that moves nothing is gone through like others; one that is held at its start is not', () => {
    const board = new TrackBoard(sheet, 2, [0.5, 0.1]);
    board.endStep(0, ended([pose(0, 1)]));
    expect(board.reached).toBe(1);
    expect(board.poseAt(0.5).angle[fold]).toBe(1);
    board.endStep(1, ended([pose(0, 1)], 0));
    expect(board.reached).toBe(1);
  });

  it('stays at what a failing step reached', () => {
    const board = new TrackBoard(sheet, 2, [0.5, 0.1]);
    board.endStep(0, ended([pose(0, 0), pose(1, 2)], 0.4));
    expect(board.reached).toBeCloseTo(0.4, 12);
    expect(board.poseAt(0.2).angle[fold]).toBeCloseTo(1, 12);
    expect(board.poseAt(1.9).angle[fold]).toBe(2);
  });

  it('forgets poses of an attempt that the solver gave up', () => {
    const board = new TrackBoard(sheet, 1, [0.5, 0.1]);
    board.addPose(0, pose(0.3, 1));
    board.addPose(0, pose(0.6, 2));
    board.addPose(0, pose(0.1, -0.5));
    expect(board.reached).toBeCloseTo(0.1, 12);
    expect(board.poseAt(0.6).angle[fold]).toBe(-0.5);
  });

  it('keeps the chosen panel where it is', () => {
    const board = new TrackBoard(sheet, 1, [0.5, 0.1]);
    board.endStep(0, ended([pose(0, 0), pose(1, 2)]));
    const still = board.stillPanel(sheet);
    expect([...board.poseAt(1).placement.rotation.slice(4 * still, 4 * still + 4)]).toEqual([0, 0, 0, 1]);
    board.keepStill([0.5, 0.9]);
    expect(board.stillPanel(sheet)).not.toBe(still);
  });
});

describe('the flat sheet as a drawing', () => {
  it('begins a new stroke for each crease, so that dashes begin anew', () => {
    expect(linePaths(sheet).valley.match(/M/g)).toHaveLength(1);
    expect(linePaths(sheet).edge).toBe(rimPath(sheet));
    expect(rimPath(sheet).match(/Z/g)).toHaveLength(1);
  });

  it('holds a flat line back from the raw edge (printed notation: existing creases stop short)', () => {
    const [, x1, x2] = /M([\d.]+) .*L([\d.]+) /.exec(linePaths(sheet).flat)!;
    const ends = [Number(x1), Number(x2)].sort();
    expect(ends[0]).toBeGreaterThan(0.005);
    expect(ends[1]).toBeLessThan(0.995);
  });

  it('picks the nearest line within reach, else the panel, else nothing', () => {
    expect(pickOnSheet(sheet, 0.4, 0.51, 0.02)).toEqual({ kind: 'crease', id: fold });
    expect(pickOnSheet(sheet, 0.4, 0.3, 0.02)?.kind).toBe('panel');
    // at an end of the crease its corner is meant, however near; in the middle of a short one never
    const corner = sheet.creaseFrom[fold]!;
    const at = [
      sheet.vertexX[corner]! + (sheet.vertexX[corner]! < 0.5 ? 0.01 : -0.01),
      sheet.vertexY[corner]!,
    ] as const;
    expect(pickOnSheet(sheet, ...at, 0.02)).toEqual({ kind: 'vertex', id: corner });
    expect(pickOnSheet(sheet, 0.5, 0.51, 10)?.kind).toBe('crease');
    expect(pickOnSheet(sheet, 1.4, 0.3, 0.02)).toBeNull();
  });

  it('walks from crease to crease with the arrow keys', () => {
    const up = walkFrom(sheet, { kind: 'crease', id: fold }, 0, 1);
    expect(up.kind).toBe('crease');
    expect(sheet.vertexY[sheet.creaseFrom[up.id]!]! + sheet.vertexY[sheet.creaseTo[up.id]!]!).toBeGreaterThan(
      1,
    );
    expect(walkFrom(sheet, null, 1, 0).kind).toBe('crease');
  });
});
