/** Opening, keeping and crediting lessons. */
import type { DashStyle } from '../../core/storage/drawing/dash.ts';

export const shelf = {
  mappingTitle: 'What do these lines mean?',
  mappingIntro:
    'This drawing does not say which of its lines are creases. Each kind of stroke found is listed; set what it stands for.',
  mappingLeftOut: (count: number) =>
    count === 1
      ? '1 line round or beside the sheet was left out.'
      : `${count} lines round or beside the sheet were left out.`,
  mappingTakeAll: 'Take all lines',
  sheetsTitle: (count: number) => `Which of these ${count} sheets?`,
  sheetOfSeveral: (number: number, creases: number) =>
    `Sheet ${number}: ${creases === 1 ? '1 crease' : `${creases} creases`}`,
  mappingCount: (count: number) => (count === 1 ? '1 line' : `${count} lines`),
  mappingUse: 'Fold this drawing',
  mappingLeave: 'Leave it',
  dashes: {
    solid: 'solid',
    dashed: 'dashed',
    'dash-dot': 'dash-dot',
    'dash-dot-dot': 'dash-dot-dot',
    dotted: 'dotted',
  } satisfies Record<DashStyle, string>,
  mappingLayer: (layer: string) => `layer “${layer}”`,
  meanings: {
    mountain: 'Mountain',
    valley: 'Valley',
    unassigned: 'Either way',
    edge: 'Raw edge',
    flat: 'Mark',
    cut: 'Cut',
    ignore: 'Ignore',
  },
  meaningOf: (what: string) => `Meaning of ${what}`,

  openElsewhere:
    'This lesson is open in another tab. Look as you like; what you change here is kept as a copy of its own.',
  copyElsewhere: 'Kept as a copy, because the lesson itself is open in another tab.',
  copyChanged: 'The lesson was changed in another tab meanwhile; what you do here is kept as a copy.',
  keptAgain: 'Kept again.',
  diskFull:
    'The disk is full, so the last change is not kept: save the lesson as a file, or delete lessons you need no more.',
  shelfClosed:
    'This window keeps no lessons (it is private, or storage is switched off): save the lesson as a file before you close it.',
  saveAsFile: 'Save as a file',
  yourLessons: 'Your lessons',
  noLessonsYet: 'Nothing yet. A lesson that you change or open is kept here by itself, in this browser.',
  copyMark: 'copy',
  rename: 'Rename',
  duplicate: 'Duplicate',
  deleteLesson: 'Delete',
  changeLesson: (title: string) => `Change “${title}”`,
  nameOfLesson: 'Name of the lesson',
  deleted: (title: string) => `“${title}” is deleted.`,
  copyOf: (title: string) => `${title} (copy)`,
  onTheTable: 'on the table',

  aboutLesson: 'About this lesson',
  lessonTitle: 'Title',
  lessonPlace: 'Place',
  creditMaker: 'Maker of the model',
  creditSource: 'Where it is from',
  creditStatus: 'In your own words',
  creditDate: 'Since when',
  permission: 'Permission',
  permissions: {
    own: 'my own',
    traditional: 'traditional',
    asked: 'asked',
    granted: 'granted',
    refused: 'refused',
    unknown: 'unknown',
  },
  allowed: 'It may be',
  uses: {
    'teach-free': 'taught free',
    'teach-paid': 'taught for a fee',
    film: 'filmed',
    print: 'printed',
    post: 'posted',
  },

  versions: 'Versions',
  versionsIntro: 'Keep the lesson as it is now under a name, and go back to it whenever you like.',
  versionName: 'Name of this version',
  keepVersion: 'Keep',
  goBackTo: (name: string) => `Go back to “${name}”`,
  goBack: 'Go back to this',
  wentBack: (name: string) => `The lesson is as it was in “${name}”. Undo takes it back.`,
  removeVersion: (name: string) => `Remove “${name}”`,
  noVersions: 'None yet.',
};
