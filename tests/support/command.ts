/** The command line, called in this process. */
import { expect, vi } from 'vitest';
import { main } from '../../src/command/main.ts';

/** Runs a call with --json; it must be one that can be used. */
// biome-ignore lint/suspicious/noExplicitAny: an answer is any JSON object
export async function runCommand(...words: string[]): Promise<{ code: number; answer: any }> {
  let [output, error] = ['', ''];
  const stdout = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    output += text;
    return true;
  });
  const stderr = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    error += text;
    return true;
  });
  const code = await main([...words, '--json']);
  stdout.mockRestore();
  stderr.mockRestore();
  expect(error).toBe('');
  return { code, answer: JSON.parse(output) };
}
