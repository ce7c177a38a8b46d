import { it } from 'vitest';
import { foldAcross } from '/tmp/wt-fold/src/core/lesson/on-model/fold-across.ts';
import { canLie } from '/tmp/wt-fold/src/core/lesson/on-model/lies.ts';
import { reverseFolds } from '/tmp/wt-fold/src/core/lesson/on-model/reverse-fold.ts';
import { foldAll, folded, lineOn, planned, square, placeOf } from '/tmp/wt-fold/tests/support/on-model.ts';
const all = (f: any) => Array.from(f.sheet.panelRings.keys()) as number[];
const straight = (lesson: any, still: any, a: any, b: any, t: 1|-1, which?: (f:any)=>number[]) => {
  const pose = foldAll(lesson, still);
  const plan = planned(foldAcross({ ...pose, ...lineOn(pose, a, b, t), panels: which ? which(pose) : all(pose), whole: true }));
  return folded(pose, plan);
};
const rev = (name: string, lesson: any, still: any, a: any, b: any, which?: (f:any)=>number[]) => {
  const pose = foldAll(lesson, still);
  console.log(name, 'before', pose.outcomes, pose.troubles, pose.stacks.over[0].map((s:any)=>s.join('')).join(' '));
  for (const way of ['inside','outside'] as const) {
    const plans = reverseFolds({ ...pose, ...lineOn(pose, a, b, 1), panels: which? which(pose): all(pose), way });
    if ('refused' in plans) { console.log(way, plans.refused, plans.panels); continue; }
    for (const plan of plans) {
      const ok = canLie(lesson, pose, plan, () => false);
      const t = performance.now();
      let res: any = '';
      if (ok) { const after = foldAll(folded(pose, plan), still); res = [after.outcomes, after.troubles]; 
        const after2 = after.outcomes.at(-1)==='rigid'?null: foldAll(folded(pose, plan), still, true); if (after2) res.push(after2.outcomes.at(-1), after2.troubles.at(-1)); }
      console.log(name, way, 'apart', plan.apart.join(), 'panels', plan.panels.join(), 'ridges', plan.opened.length, 'lies', ok, JSON.stringify(res), (performance.now()-t).toFixed(0));
    }
  }
};
it('kite', () => {
  const s = [0.3, 0.3] as const; // on diagonal? still in centre
  const t = Math.tan(Math.PI/8);
  let l = straight(square, [0.3,0.31], [1, t], [0, 0], 1);  // right edge lower corner below the line moves? 
  l = straight(l, [0.3,0.31], [0,0], [t,1], 1);
  const p = foldAll(l, [0.3,0.31]);
  console.log(placeOf(p, 1, 0), placeOf(p, 0, 1));
  l = straight(l, [0.3,0.31], [1,1],[0,0], -1);
  rev('kite', l, [0.3,0.31], [0.25,0.1],[0.1,0.25]);
}, 100000);
it('quarter', () => {
  const s = [0.1,0.1] as const;
  let l = straight(square, s, [0.5,0],[0.5,1].slice() as any, -1);
  l = straight(l, s, [0,0.5],[1,0.5], 1);
  // closed corner at (0.5,0.5)
  rev('quarter closed corner all', l, s, [0.5,0.3],[0.3,0.5].slice() as any);
  rev('quarter closed corner', l, s, [0.3,0.5],[0.5,0.3]);
  rev('quarter side flap', l, s, [0.2,0.5],[0,0.3], );
  rev('quarter side flap top', l, s, [0.2,0.5],[0,0.3], (f)=>[f.stacks.over[0].find((x:any)=>x.length===4).at(-1)]);
}, 100000);
it('double diag', () => {
  const s = [0.2,0.1] as const;
  let l = straight(square, s, [0,0],[1,1], 1);
  l = straight(l, s, [1,0],[0.5,0.5], 1);
  const p = foldAll(l, s); console.log(placeOf(p,1,1), placeOf(p,0,0), placeOf(p,0,1));
  rev('dd', l, s, [0.2,0], [0.2,0.5]);
  rev('dd2', l, s, [0.5,0.5+0.2],[0.5, 0.2]);
  rev('dd3', l, s, [0.3, 0.0], [0.1, 0.5], (f)=>[f.stacks.over[0].find((x:any)=>x.length===4).at(-1)]);
}, 100000);
