/**
 * English: every text of the tool but the sentences of findings (findings.ts), which come when something is found. Field
 * terms of the trade; no sentence promises more than was computed.
 */
import { commands, placeKeys } from './commands.ts';
import { draw } from './draw.ts';
import { foldTrouble } from './folds-on-model.ts';
import { frame } from './frame.ts';
import * as lock from './locks.ts';
import { looking } from './looking.ts';
import { making } from './making.ts';
import { measures } from './measures.ts';
import { mendText, mendTitles } from './mends.ts';
import { folds, kinds, stepKinds, views } from './names.ts';
import { outlineTrouble } from './outlines.ts';
import { shelf } from './shelf.ts';
import { foldTitle, sentenceOfStep } from './steps.ts';
import { told } from './told.ts';

/** What is there from the start. */
export const english = {
  /** As Intl names the language. */
  tag: 'en',
  direction: 'ltr' as 'ltr' | 'rtl',
  screen: {
    ...making,
    ...frame,
    ...looking,
    ...told,
    ...shelf,
    lock: {
      grades: lock.grades,
      sentence: lock.lockSentence,
      sentences: lock.lockSentences,
      lidSentence: lock.lidSentence,
    },
    ...{ outlineTrouble, foldTrouble, mendText, mendTitles, sentenceOfStep, foldTitle },
    placeKeys,
  },
  measures,
  ...{ draw, commands, kinds, stepKinds, views, folds },
};
