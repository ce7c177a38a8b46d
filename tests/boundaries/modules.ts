/** Reads a module with a parser: what it takes from where, what it hands out, its variables and its functions. */
import { posix } from 'node:path';
import { parseSync, Visitor } from 'vite';

export interface Module {
  readonly path: string;
  /** Names taken one by one. */
  readonly takes: readonly { readonly from: string; readonly name: string }[];
  /** Modules taken as a whole, at once or when asked for: of these a name is used where it is mentioned. */
  readonly wholes: readonly string[];
  /** Modules whose names are handed on all together. */
  readonly alls: readonly string[];
  readonly words: ReadonlySet<string>;
  /** Names that others can take, `default` for the one without a name. */
  readonly exports: readonly string[];
  /** Variables of the module itself that can be given another value. */
  readonly variables: readonly string[];
  readonly functions: readonly { readonly name: string; readonly lines: number }[];
}

/** @param path relative to the root, with forward slashes */
export function readModule(path: string, source: string): Module {
  const { program, module, errors } = parseSync(path, source);
  if (errors.length > 0) throw new Error(`${path}: ${errors[0]!.message}`);
  const at = (name: string) => (name.startsWith('.') ? posix.join(posix.dirname(path), name) : name);
  const { staticImports, staticExports, dynamicImports } = module;
  const passedOn = staticExports.flatMap(({ entries }) => entries).filter((entry) => entry.moduleRequest);
  const taken = [
    ...staticImports.flatMap(({ moduleRequest, entries }) =>
      entries.map(({ importName }) => ({ from: at(moduleRequest.value), name: nameOf(importName) })),
    ),
    ...passedOn.map((entry) => ({ from: at(entry.moduleRequest!.value), name: nameOf(entry.importName) })),
  ];
  const asked = dynamicImports.map(({ moduleRequest: { start, end } }) => source.slice(start + 1, end - 1));
  const spread = staticImports.filter(({ entries }) =>
    entries.some(({ importName, localName: { value, end } }) => {
      const later = new RegExp(`(?:(?<![\\w$.])|(?<=\\.\\.\\.))${value}(?![\\w$]|\\s*\\.)`);
      return nameOf(importName) === '*' && later.test(source.slice(end));
    }),
  );
  const bare = staticImports.filter(({ entries }) => entries.length === 0);
  const { functions, types } = walk(program, source);
  return {
    path,
    takes: taken.filter(({ name }) => name !== '*'),
    wholes: [
      ...taken.filter(({ name }) => name === '*').map(({ from }) => from),
      ...[...asked, ...types, ...bare.map(({ moduleRequest }) => moduleRequest.value)].map(at),
    ],
    alls: spread.map(({ moduleRequest }) => at(moduleRequest.value)),
    words: new Set(['default', ...(source.match(/[\w$]+/g) ?? [])]),
    exports: staticExports
      .flatMap(({ entries }) => entries)
      .filter(({ exportName }) => exportName.kind !== 'None')
      .map(({ exportName }) => nameOf(exportName)),
    variables: program.body.flatMap((node) => {
      const told = node.type === 'ExportNamedDeclaration' ? node.declaration : node;
      if (told?.type !== 'VariableDeclaration' || told.kind === 'const') return [];
      return told.declarations.map(({ id }) => source.slice(id.start, id.end));
    }),
    functions,
  };
}

function nameOf({ kind, name }: { readonly kind: string; readonly name?: string | null }): string {
  return kind === 'Name' ? name! : kind === 'Default' ? 'default' : '*';
}

/** All functions with their lengths, and the modules of types written as import('...'). */
function walk(program: Parameters<Visitor['visit']>[0], source: string) {
  const functions: { name: string; lines: number }[] = [];
  const types: string[] = [];
  const add = ({ start, end }: { start: number; end: number }) => {
    const lines = source.slice(start, end).split('\n').length;
    const line = source.slice(source.lastIndexOf('\n', start) + 1).split('\n')[0]!;
    functions.push({ name: line.trim(), lines });
  };
  new Visitor({
    FunctionDeclaration: add,
    FunctionExpression: add,
    ArrowFunctionExpression: add,
    TSImportType: ({ source: { value } }) => {
      types.push(value);
    },
  }).visit(program);
  return { functions, types };
}

/** Names that a module hands out and no other of `users` takes. */
export function unusedExports(module: Module, users: readonly Module[]): string[] {
  const others = users.filter(({ path }) => path !== module.path);
  return module.exports.filter(
    (name) =>
      !others.some(
        ({ takes, wholes, alls, words }) =>
          alls.includes(module.path) ||
          takes.some((one) => one.from === module.path && one.name === name) ||
          (wholes.includes(module.path) && words.has(name)),
      ),
  );
}

/** Circles among modules, each as the paths along it; one for each group of modules that reach each other. */
export function circles(modules: readonly Module[]): string[][] {
  const next = new Map(
    modules.map(({ path, takes, wholes }) => [path, new Set([...takes.map(({ from }) => from), ...wholes])]),
  );
  const found: string[][] = [];
  const done = new Set<string>();
  const follow = (path: string, way: readonly string[]): void => {
    const from = way.indexOf(path);
    if (from >= 0) found.push([...way.slice(from), path]);
    if (from >= 0 || done.has(path)) return;
    for (const to of next.get(path) ?? []) follow(to, [...way, path]);
    done.add(path);
  };
  for (const path of next.keys()) follow(path, []);
  return found;
}
