/** `npm run bench`: speed as ratios against baselines measured in the same run. */
import { benchCholmod, benchEngines, benchPoses } from './kinematics.ts';

benchPoses();
benchCholmod();
await benchEngines();
