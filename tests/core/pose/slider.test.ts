import { expect, it } from 'vitest';
import { sliderJumps } from '../../bench/slider.ts';

it('100 random jumps of the slider over each of three patterns land on the right branch, seed 3', () => {
  for (const { pattern, right, jumps } of sliderJumps(100, 3)) expect(right, pattern).toBe(jumps);
});
