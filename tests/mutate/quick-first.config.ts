// The order of the tests of a changed tree: what was quick before goes first, so that most changes cost seconds.
import { relative } from 'node:path';
import { mergeConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import usual from '../../vite.config.ts';

class QuickFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const { cache, config } = this.ctx;
    const took = ({ moduleId, project }: TestSpecification) =>
      cache.getFileTestResults(`${project.name}:${relative(config.root, moduleId)}`)?.duration ?? 0;
    return files.toSorted((a, b) => took(a) - took(b));
  }
}

export default mergeConfig(usual, {
  cacheDir: '.vite',
  // on a busy machine a slow test is no sign of anything
  test: { sequence: { sequencer: QuickFirst }, testTimeout: 600_000 },
});
