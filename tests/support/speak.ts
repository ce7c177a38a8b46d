import { sentencesReady } from '../../src/words/findings.ts';

// findings are told in every test
await sentencesReady();
