/** Lays a JSON value out for people: whatever fits on one line stays on one line, the rest is indented. */
export function layOutJson(value: unknown, width = 110): string {
  const lay = (part: unknown, indent: string): string => {
    const flat = JSON.stringify(part) ?? 'null';
    if (flat.length + indent.length <= width || part === null || typeof part !== 'object') return flat;
    const deeper = `${indent}  `;
    if (Array.isArray(part)) {
      return `[\n${part.map((item) => deeper + lay(item, deeper)).join(',\n')}\n${indent}]`;
    }
    const lines = Object.entries(part)
      .filter(([, item]) => item !== undefined)
      .map(([key, item]) => `${deeper}${JSON.stringify(key)}: ${lay(item, deeper)}`);
    return `{\n${lines.join(',\n')}\n${indent}}`;
  };
  return `${lay(value, '')}\n`;
}
