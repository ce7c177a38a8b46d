import type { PartCalled } from '../core/lesson/part-names.ts';
import { words } from './words.ts';

/** What a panel is called: by the teacher, or else by its number and its place on the flat sheet. */
export const partName = (called: PartCalled): string => called.name ?? proposedPartName(called);

export const proposedPartName = ({ panel, place }: PartCalled): string => words.panelAt(panel, place);
