/** Opening, keeping and crediting lessons. */
import type { DashStyle } from '../../core/storage/drawing/dash.ts';

export const shelf = {
  mappingTitle: 'What do these lines mean?',
  mappingIntro:
    'This drawing does not say which of its lines are creases. Set what each kind of line stands for; the lines themselves are lit in the picture.',
  pictureIntro: (doubts: number) =>
    `Lines were read from the picture and lie over it. Hold them against it: a reading is never exact. ${
      doubts === 0
        ? 'No place was found doubtful.'
        : doubts === 1
          ? '1 place is doubtful and ringed.'
          : `${doubts} places are doubtful and ringed.`
    } Then set what each kind of line stands for.`,
  mappingLeftOut: (count: number) =>
    count === 1
      ? '1 line round or beside the sheet was left out.'
      : `${count} lines round or beside the sheet were left out.`,
  mappingTakeAll: 'Take all lines',
  mappingShowAside: 'Show them',
  mappingHideAside: 'Hide them',
  mappingPicture: (count: number) => (count === 1 ? 'The drawing: 1 line' : `The drawing: ${count} lines`),
  mappingGather: 'Answer together what shares',
  gatherings: {
    look: 'everything',
    dash: 'its dashes',
    colour: 'its colour',
    layer: 'its layer',
  },
  mappingMore: (count: number) =>
    `${count} more kinds of line are not listed: answer by dashes, colour or layer.`,
  mappingLooks: (count: number) => `${count} kinds of line`,
  mappingOnRim: 'round the sheet',
  meaningsDiffer: 'Various',
  readingFile: (name: string) => `Opening “${name}”`,
  readingStages: {
    reading: 'Reading what is drawn',
    sorting: 'Finding the sheet among the lines',
    joining: 'Joining lines to panels',
  },
  readingStop: 'Stop',
  whichTitle: {
    sheet: (count: number) => `Which of these ${count} sheets?`,
    page: (count: number) => `Which of these ${count} pages?`,
  },
  whichOne: {
    sheet: (number: number, creases: number) =>
      `Sheet ${number}: ${creases === 1 ? '1 crease' : `${creases} creases`}`,
    page: (number: number, lines: number) => `Page ${number}: ${lines === 1 ? '1 line' : `${lines} lines`}`,
  },
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
  notKept: {
    full: 'The disk is full, so the last change is not kept: save the lesson as a file, or delete lessons you need no more.',
    closed:
      'This window keeps no lessons (it is private, or storage is switched off): save the lesson as a file before you close it.',
    blocked:
      'Another tab with an older page holds your lessons, so the last change is not kept: close that tab, or save the lesson as a file.',
    newer:
      'A later version of this page has kept your lessons, so this one changes none of them: load the page anew, or save the lesson as a file.',
  },
  damaged: {
    lost: 'damaged: its text is gone',
    broken: 'damaged: its text is no lesson',
    newer: 'written by a later version of this page',
  },
  damagedTitle: 'Without a title',
  damagedCannotOpen: (title: string, how: string) =>
    `“${title}” cannot be opened, it is ${how}. It stays under Lessons as it is.`,
  saveRemains: 'Save what is left as a file',
  lastNotOpened: (why: string) => `What lay here last could not be opened, so this sample is shown: ${why}`,
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
