import { MISS, NEARBY } from '../numeric/tolerance.ts';

/**
 * Is a state what was asked for? Finished angles are to be met one by one. Angles scaled by less than 1 hardly ever
 * close as they are, so that the nearest state stands for them; but it has to be nearer to them than the flat sheet,
 * which closes whatever is asked.
 * @param asked fold angle per crease, scaled already, radians; NaN where nothing is asked
 * @param reached fold angle per crease of the state found, radians
 * @param part share of the finished angles that was asked for, 0 to 1
 */
export function reaches(asked: Float64Array, reached: Float64Array, part: number): boolean {
  let largest = 0;
  let missed = 0;
  let wanted = 0;
  asked.forEach((angle, crease) => {
    if (Number.isNaN(angle)) return;
    const miss = angle - reached[crease]!;
    largest = Math.max(largest, Math.abs(miss));
    missed += miss * miss;
    wanted += angle * angle;
  });
  if (part === 1) return largest <= MISS;
  return Math.sqrt(missed) <= NEARBY * Math.sqrt(wanted);
}
