/**
 * The dense loops of the sparse factorisation: as WebAssembly where the engine has it with vectors, else in plain
 * JavaScript with the same layout (columns an even number of rows apart).
 */
import { kernelModule } from './kernel-code.ts';

export interface Kernel {
  /** Numbers of the factor, and of the waiting updates. */
  readonly values: Float64Array;
  readonly stack: Float64Array;
  /**
   * Cholesky of the first `width` columns of the panel at values[panel], columns `lead` apart.
   * False at a pivot that is not positive.
   */
  panel(panel: number, lead: number, width: number): boolean;
  /** stack[update..] -= B B', lower half; B are `rest` rows of `width` columns from values[base] on. */
  outer(base: number, lead: number, width: number, update: number, updateLead: number, rest: number): void;
}

/** What is used of the engine's WebAssembly; core is compiled without the browser's types. */
interface Engine {
  readonly Memory: new (size: { initial: number }) => { readonly buffer: ArrayBuffer };
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (
    module: object,
    imports: object,
  ) => {
    readonly exports: {
      readonly panel: (panel: number, lead: number, width: number) => number;
      readonly outer: (
        base: number,
        lead: number,
        width: number,
        update: number,
        updateLead: number,
        rest: number,
      ) => void;
    };
  };
}

const engine = (globalThis as unknown as { WebAssembly?: Engine }).WebAssembly;
let module: object | null | undefined;

/** Vector loads may reach this many numbers past the end. */
const SPARE = 8;
const PAGE = 65536;

/** Below this many numbers a memory of its own costs more than the vectors save. */
const WORTH_COMPILING = 6000;

export function makeKernel(factorSize: number, stackSize: number): Kernel {
  return factorSize < WORTH_COMPILING
    ? plainKernel(factorSize, stackSize)
    : fastKernel(factorSize, stackSize);
}

/** Compiled where the engine can. */
export function fastKernel(factorSize: number, stackSize: number): Kernel {
  if (module === undefined) module = compile();
  return module && engine
    ? wasmKernel(engine, module, factorSize, stackSize)
    : plainKernel(factorSize, stackSize);
}

function compile(): object | null {
  try {
    return engine ? new engine.Module(kernelModule()) : null;
  } catch {
    // an engine without vectors, or a page that forbids compiling
    return null;
  }
}

function wasmKernel(wasm: Engine, code: object, factorSize: number, stackSize: number): Kernel {
  const stackAt = factorSize + SPARE;
  const bytes = 8 * (stackAt + stackSize + SPARE);
  const memory = new wasm.Memory({ initial: Math.ceil(bytes / PAGE) });
  const { panel, outer } = new wasm.Instance(code, { m: { m: memory } }).exports;
  return {
    values: new Float64Array(memory.buffer, 0, factorSize),
    stack: new Float64Array(memory.buffer, 8 * stackAt, stackSize),
    panel: (at, lead, width) => panel(8 * at, 8 * lead, width) === 1,
    outer: (base, lead, width, update, updateLead, rest) =>
      outer(8 * base, 8 * lead, width, 8 * (stackAt + update), 8 * updateLead, rest),
  };
}

/** The same in JavaScript. */
export function plainKernel(factorSize: number, stackSize: number): Kernel {
  const values = new Float64Array(factorSize);
  const stack = new Float64Array(stackSize);
  return {
    values,
    stack,
    panel: (panel, lead, width) => factorPanel(values, panel, lead, width),
    outer: (base, lead, width, update, updateLead, rest) => {
      for (let j = 0; j < rest; j++)
        for (let p = base; p < base + width * lead; p += lead) {
          const factor = values[p + j]!;
          const column = update + j * updateLead;
          for (let r = j; r < rest; r++) stack[column + r]! -= factor * values[p + r]!;
        }
    },
  };
}

function factorPanel(v: Float64Array, panel: number, lead: number, width: number): boolean {
  for (let j = 0; j < width; j++) {
    const target = panel + j * lead;
    for (let a = panel; a < target; a += lead) {
      const factor = v[a + j]!;
      for (let r = j; r < lead; r++) v[target + r]! -= factor * v[a + r]!;
    }
    const pivot = v[target + j]!;
    if (!(pivot > 0)) return false;
    const scale = 1 / Math.sqrt(pivot);
    for (let r = j; r < lead; r++) v[target + r]! *= scale;
  }
  return true;
}
