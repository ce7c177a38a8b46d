import { Refusal } from './refusal.ts';

/** Parses JSON. Throws a Refusal with line and column where the text is broken. */
export function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new Refusal(brokenAt(text, error instanceof Error ? error.message : ''));
  }
}

function brokenAt(text: string, said: string): string {
  const position = /position (\d+)/.exec(said);
  const place = /line (\d+) column (\d+)/.exec(said);
  if (place) return sentence(Number(place[1]), Number(place[2]));
  const at = position ? Number(position[1]) : text.length;
  const before = text.slice(0, at);
  const line = before.split('\n').length;
  return sentence(line, at - before.lastIndexOf('\n'));
}

function sentence(line: number, column: number): string {
  return `The JSON of this file is broken at line ${line}, column ${column}: correct it there or save the file again.`;
}
