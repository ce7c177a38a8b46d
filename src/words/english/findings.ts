/** The sentences of all findings: what, where, what to do. */
import type { FindingValues } from '../../core/finding/values.ts';
import type { SentencesOf } from '../sentence.ts';
import { findingsOfContact } from './findings-of-contact.ts';
import { findingsOfFiles } from './findings-of-files.ts';
import { findingsOfLayers, noOrder } from './findings-of-layers.ts';
import { findingsOfLesson } from './findings-of-lesson.ts';
import { findingsOfMotion } from './findings-of-motion.ts';
import { findingsOfSheet } from './findings-of-sheet.ts';

const findings: SentencesOf<FindingValues> = {
  ...findingsOfSheet,
  ...findingsOfMotion,
  ...findingsOfContact,
  ...findingsOfLayers,
  ...findingsOfLesson,
  ...findingsOfFiles,
};

export const sentences = { findings, noOrder };
