/** `npm run bench`: speed as ratios against baselines measured in the same run. */
import { benchContact } from './contact.ts';
import { benchDrawn } from './drawn.ts';
import { timeGraphs } from './graph.ts';
import { benchCholmod, benchEngines, benchPoses } from './kinematics.ts';
import { benchCounts, benchFirstOrder } from './layers.ts';
import { heading, row } from './measure.ts';
import { benchQuestions } from './questions.ts';
import { benchRebuild } from './rebuild.ts';
import { sliderJumps } from './slider.ts';

heading('Crease graph from loose strokes (ms, best)');
for (const { drawing, rows, exponent } of timeGraphs()) {
  row(drawing, ...rows.map(({ segments, best }) => `${segments}: ${best.toFixed(1)}`));
  row('growth exponent', exponent, '(goal at most 1.2)');
}
benchPoses();
benchContact();
benchFirstOrder();
benchCounts();
heading('Random jumps of the slider, seed 3');
for (const { pattern, jumps, right, time } of sliderJumps(400, 3))
  row(pattern, `${right} of ${jumps} on the right branch,`, time, 'ms a jump');
benchQuestions();
benchDrawn();
await benchRebuild();
benchCholmod();
await benchEngines();
