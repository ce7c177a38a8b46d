/**
 * Trays, cases and flares of random proportions: folded step after step their panels touch, slide and come to lie on
 * each other. None is seen to pass through another but where the slow oracle sees it too (gussets may meet at one wall),
 * and the sides on which the motion lays them make a layer order that exists. Two wide cuffs that turn in together meet
 * level half-way and go through each other at that moment alone: no pose shows it, their sides do.
 */
import { describe, expect, test } from 'vitest';
import { contactsOfTrack } from '../../../src/core/contact/track.ts';
import type { OrderedPair } from '../../../src/core/layer/asked.ts';
import { LayerProblem } from '../../../src/core/layer/problem.ts';
import { seededRandom } from '../../../src/core/numeric/random.ts';
import { placePanels } from '../../../src/core/pose/place.ts';
import { panelsInSpace, pierces } from '../../oracles/contact.ts';
import { buildModel, endOf, foldThrough, stagesOf } from '../../support/folded-models.ts';
import { cuffedTray, disguise, flare, hingedCase } from '../../support/models.ts';
import { hingedStrip, runOf } from '../../support/strips.ts';

const seed = Number(process.env.CREASEWAY_SEED ?? 17);
const count = process.env.CREASEWAY_SOAK === '1' ? 60 : 5;

test('two cuffs wider than the tray between them go through each other, as wide as they are together', () => {
  // walls 1 high and 2 apart, cuffs 0.7 and 1.5: both turn by the same angle, the tips overlap by 0.2 when level, and
  // there the wider one stands over the narrower at first and under it afterwards
  const strip = hingedStrip([0.7, 1, 2, 1, 1.5], 1);
  const poses = runOf(strip, [
    [40, 90, 90, 40],
    [120, 90, 90, 120],
  ]);
  const { contacts } = contactsOfTrack({ sheet: strip.sheet, poses, still: strip.panels[2]! });
  const [one, ...more] = contacts;
  expect(more).toEqual([]);
  expect(one!.kind).toBe('side');
  expect([...one!.panels].sort()).toEqual([strip.panels[0]!, strip.panels[4]!].sort());
  const narrow = hingedStrip([0.4, 1, 2, 1, 1.5], 1);
  const clear = runOf(narrow, [
    [40, 90, 90, 40],
    [120, 90, 90, 120],
  ]);
  expect(contactsOfTrack({ sheet: narrow.sheet, poses: clear, still: narrow.panels[2]! }).contacts).toEqual(
    [],
  );
});

describe.each([
  ['trays', cuffedTray],
  ['cases', hingedCase],
  ['flares', flare],
] as const)('%s', (_, make) => {
  test.each(Array.from({ length: count }, (__, k) => seed + k))('seed %i', (own) => {
    const random = seededRandom(own * 104_729);
    const model = make(random);
    const built = buildModel(model, disguise(model, random));
    const { sheet, still } = built;
    let [met, crossed] = [0, 0];
    for (const track of foldThrough(sheet, stagesOf(model, built))) {
      expect(track.report.outcome, model.name).toBe('rigid');
      const { contacts, sides } = contactsOfTrack({ sheet, poses: track.poses, still });
      for (const { panels, kind, deepest } of contacts) {
        if (kind === 'side') continue;
        const near = track.poses.filter(({ at }) => Math.abs(at - deepest) < 0.05);
        const crosses = near.some(({ angle }) => {
          const placed = panelsInSpace(sheet, angle, still);
          return pierces(placed[panels[0]]!, placed[panels[1]]!, -1e-6);
        });
        expect(crosses, `${model.name}: ${panels}`).toBe(true);
      }
      if (contacts.length > 0) crossed++;
      if (crossed > 0) continue;
      const told = sides.pairs.filter((pair): pair is OrderedPair => pair[2] !== 0);
      expect(told, model.name).toHaveLength(sides.pairs.length);
      met += told.length;
      const end = endOf(track);
      const problem = new LayerProblem(sheet, end, placePanels(sheet, end, still));
      expect(problem.first([{ keep: told }]), model.name).not.toBeNull();
    }
    // gussets at least come to lie on walls
    expect(met + crossed, model.name).toBeGreaterThan(0);
  });
});
