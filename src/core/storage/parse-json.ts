import { type Refusal, unreadable } from './refusal.ts';

/** Parses JSON. Throws a Refusal with line and column where the text is broken. */
export function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw brokenAt(text, error instanceof Error ? error.message : '');
  }
}

function brokenAt(text: string, said: string): Refusal {
  const position = /position (\d+)/.exec(said);
  const place = /line (\d+) column (\d+)/.exec(said);
  if (place) return broken(Number(place[1]), Number(place[2]));
  const at = position ? Number(position[1]) : text.length;
  const before = text.slice(0, at);
  const line = before.split('\n').length;
  return broken(line, at - before.lastIndexOf('\n'));
}

const broken = (line: number, column: number) => unreadable({ how: 'json-broken', line, column });
