/** The frame round all rooms: names of rooms, the header, messages, keys. */

import { whyText } from './why.ts';

export const frame = {
  open: 'Open a file',
  openShort: 'Open',
  lessons: 'Lessons',
  save: 'Save',
  saveAs: {
    lesson: 'Lesson',
    fold: 'FOLD, open standard',
    svg: 'SVG of the pattern',
    dxf: 'DXF of the pattern',
    glb: 'GLB of the model as it is',
    obj: 'OBJ of the model as it is',
  },
  undo: 'Undo',
  redo: 'Redo',
  keys: 'Keys',
  more: 'More',
  darkTable: 'Dark table',
  lightTable: 'Light table',
  dropHere: 'Let go to open this file',
  dropKinds: 'SVG, PDF, DXF, FOLD, a picture or a lesson',

  noNumber: (text: string) => `"${text}" is no number: write it like 12.5 or 12,5.`,
  dismiss: 'Close',
  refusedPlain: 'This file could not be read; open another one.',
  lessonMissing: 'This lesson could not be fetched; check the connection and choose it again.',
  broke: (why: string) => `Something went wrong inside: ${whyText(why)}. The lesson is untouched.`,
  contextLost:
    'The graphics card has let go of the picture. It comes back by itself; the lesson is untouched.',
  noGraphics: 'This browser shows no 3D pictures (WebGL 2 is off). The sheet and the steps still work.',
  saved: (name: string) => `Saved ${name}.`,

  keysTitle: 'Keys',
  keysWhileDrawing: 'While drawing',
  keysElsewhere: 'In their places',
  undoEnds: 'Nothing more to take back in this lesson.',
  redoEnds: 'Nothing more to make again.',
};
