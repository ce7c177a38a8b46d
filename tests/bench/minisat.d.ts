declare module 'logic-solver/minisat_wrapper.js' {
  /** The general solver MiniSat, compiled for JavaScript. Literals count from 1, negative where negated. */
  export default class MiniSat {
    readonly _C: {
      readonly HEAP32: Int32Array;
      readonly ALLOC_NORMAL: number;
      allocate(bytes: number, type: string, where: number): number;
      /** Literals, ended by 0; false where no solution is left. */
      _addClause(pointer: number): number;
    };
    ensureVar(unknown: number): void;
    solve(): boolean;
    /** Values from 1 on. */
    getSolution(): (boolean | null)[];
  }
}
