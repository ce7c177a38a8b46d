/** What the sentence of each finding tells, by its code: plain numbers, strings and lists, never words of a sentence. */
import type { ContactValues } from './values/contact.ts';
import type { FileValues } from './values/file.ts';
import type { LayerValues } from './values/layer.ts';
import type { LessonValues } from './values/lesson.ts';
import type { MotionValues } from './values/motion.ts';
import type { SheetValues } from './values/sheet.ts';

/** Where one code has several sentences, `how` tells them apart. */
export interface FindingValues
  extends SheetValues,
    MotionValues,
    ContactValues,
    LayerValues,
    LessonValues,
    FileValues {}
