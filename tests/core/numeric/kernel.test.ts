import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { fastKernel, plainKernel } from '../../../src/core/numeric/kernel.ts';
import { kernelModule } from '../../../src/core/numeric/kernel-code.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { leadOf } from '../../../src/core/numeric/symbolic.ts';

/** A panel of random numbers with a heavy diagonal, and what it should become by the dense decomposition. */
function panelCase(tall: number, width: number, random: () => number) {
  const whole = Matrix.zeros(tall, tall);
  for (let i = 0; i < tall; i++)
    for (let j = 0; j <= i; j++) {
      const value = i === j ? tall + random() : random() - 0.5;
      whole.set(i, j, value);
      whole.set(j, i, value);
    }
  return { whole, factor: new CholeskyDecomposition(whole).lowerTriangularMatrix, width };
}

describe('the dense loops, compiled and plain, against ml-matrix', () => {
  for (const [name, make] of [
    ['as the engine has it', fastKernel],
    ['plain', plainKernel],
  ] as const)
    it(`${name}: panels of 1 to 23 rows, seed 2`, () => {
      const random = seededRandom(2);
      for (let tall = 1; tall <= 23; tall++)
        for (const width of new Set([1, Math.ceil(tall / 3), tall - 1, tall])) {
          if (width < 1) continue;
          const rest = tall - width;
          const lead = leadOf(tall);
          const kernel = make(lead * width, Math.max(1, leadOf(rest) * rest));
          const { whole, factor } = panelCase(tall, width, random);
          for (let c = 0; c < width; c++)
            for (let r = c; r < tall; r++) kernel.values[c * lead + r] = whole.get(r, c);
          expect(kernel.panel(0, lead, width)).toBe(true);
          for (let c = 0; c < width; c++)
            for (let r = c; r < tall; r++)
              expect(kernel.values[c * lead + r]).toBeCloseTo(factor.get(r, c), 12);
          if (rest === 0) continue;
          kernel.stack.fill(0);
          kernel.outer(width, lead, width, 0, leadOf(rest), rest);
          for (let c = 0; c < rest; c++)
            for (let r = c; r < rest; r++) {
              let sum = 0;
              for (let p = 0; p < width; p++) sum += factor.get(width + r, p) * factor.get(width + c, p);
              expect(kernel.stack[c * leadOf(rest) + r]).toBeCloseTo(-sum, 12);
            }
        }
    });

  it('an engine that has vectors takes the compiled ones, and does not fall back to the plain', () => {
    expect(WebAssembly.validate(Uint8Array.from(kernelModule()))).toBe(true);
  });

  it('both refuse a pivot that is not positive, NaN included', () => {
    for (const make of [fastKernel, plainKernel])
      for (const pivot of [0, -1, Number.NaN]) {
        const kernel = make(2, 1);
        kernel.values[0] = pivot;
        expect(kernel.panel(0, 2, 1)).toBe(false);
      }
  });
});
