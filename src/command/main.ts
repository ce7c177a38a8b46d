import { readOptions } from './options.ts';
import { Unusable } from './unusable.ts';

/** A verb's own part of the program is run only when it is called. */
const verbs = {
  check: async () => (await import('./check.ts')).check,
  fold: async () => (await import('./fold.ts')).fold,
  layers: async () => (await import('./layers.ts')).layers,
};

/**
 * Runs one call of the command line: the answer goes to standard output, one sentence to standard error when the
 * call or the file cannot be used. Returns the exit code: 0 yes, 1 a blocking finding, 2 unusable.
 */
export async function main(words: readonly string[]): Promise<number> {
  if (words.length === 0 || words[0] === '--help' || words[0] === 'help') {
    process.stdout.write((await say()).usage);
    return words.length === 0 ? 2 : 0;
  }
  try {
    const options = readOptions(words);
    const verb = await verbs[options.verb]();
    await (await import('../words/findings.ts')).sentencesReady();
    const { output, code } = await verb(options);
    process.stdout.write(`${output}\n`);
    return code;
  } catch (error) {
    if (!(error instanceof Unusable)) throw error;
    await (await import('../words/findings.ts')).sentencesReady();
    process.stderr.write(`${error.told(await say())}\n`);
    return 2;
  }
}

const say = async () => (await import('../words/words.ts')).fetchCommandLine();
