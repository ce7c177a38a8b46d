/** Brings the model's stage onto its canvas, and ties it to the desk. */
import { usualThickness } from '../../core/lesson/lesson.ts';
import type { End } from '../../desk/around.ts';
import type { Selection, State } from '../../desk/store.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { desk } from '../desk.ts';
import { InsideShown } from '../inside/inside-shown.ts';
import { accentOn, DARK_TABLE, inksOn, LIGHT_TABLE } from '../parts/ink.ts';
import { drawOverlay } from './overlay.ts';
import { StageScreen } from './stage-screen.ts';

/** @param place where the stage can be found once it is there @returns a call that takes it down */
export function mountModel(
  canvas: HTMLCanvasElement,
  overlay: SVGSVGElement,
  place: { current: ModelStage | null },
): End {
  let gone = false;
  let takeDown = () => {};
  const start = async () => {
    try {
      const [{ mountStage }] = await Promise.all([import('../../scene/mount.tsx'), desk.fetchForModel()]);
      if (gone) return;
      const { stage, unmount } = await mountStage(canvas, {
        onLost: () => desk.store.put({ look: { graphics: 'lost' } }),
        onBack: () => desk.store.put({ look: { graphics: 'shown' } }),
      });
      const untie = tie(stage, overlay);
      takeDown = () => {
        untie();
        unmount();
      };
      place.current = stage;
      desk.store.put({ look: { graphics: 'shown' } });
      if (gone) takeDown();
    } catch {
      desk.store.put({ look: { graphics: 'none' } });
    }
  };
  void start();
  return () => {
    gone = true;
    takeDown();
    place.current = null;
  };
}

/** @returns a call that unties it */
function tie(stage: ModelStage, overlay: SVGSVGElement): End {
  const screen = new StageScreen(stage);
  const inside = new InsideShown(stage);
  stage.onDrawn = () => {
    drawOverlay(stage, overlay);
    desk.inside.eyeMoved();
    desk.keptLooks.eyeMoved();
  };
  stage.rig.glides = () => !desk.around.motionReduced();
  stage.rig.toolOpen = isToolOpen(desk.store.state);
  const ends = [
    desk.screen.attach(screen),
    inside.begin(),
    desk.playhead.subscribe(followPose(stage)),
    desk.layersNow.subscribe(() => showPose(stage)),
    desk.store.subscribe((now, before) => follow(stage, now, before)),
  ];
  showLook(stage);
  stage.turnOver(desk.store.isTurned, false);
  showPose(stage);
  showMarks(stage);
  desk.stepLooks.standAsLeft();
  desk.pictures.takeAll();
  return () => {
    for (const end of ends) end();
  };
}

function follow(stage: ModelStage, now: State, before: State): void {
  const { selection, hover, marks, dark, verdict } = now.look;
  if (now.document.lesson !== before.document.lesson || dark !== before.look.dark) showLook(stage);
  if (selection !== before.look.selection || hover !== before.look.hover || marks !== before.look.marks)
    showMarks(stage);
  if (now.run.rest !== before.run.rest || now.folding !== before.folding) stage.invalidate();
  if (verdict !== before.look.verdict && !verdict) stage.setRest(null);
  if (isToolOpen(now) !== isToolOpen(before)) {
    stage.rig.toolOpen = isToolOpen(now);
    stage.invalidate();
  }
}

/** While a tool is open nothing may move under the pointer. */
const isToolOpen = ({ drawing, folding }: State): boolean => drawing.on || folding.on;

/** Marks are told in panels of the shown sheet, which bend lines cut. */
function followPose(stage: ModelStage): () => void {
  let sheet = desk.playhead.pose?.sheet;
  let step = desk.playhead.step;
  return () => {
    if (desk.playhead.step !== step) stage.rig.enterStep();
    step = desk.playhead.step;
    showPose(stage);
    if (desk.playhead.pose?.sheet === sheet) return;
    sheet = desk.playhead.pose?.sheet;
    showMarks(stage);
  };
}

function showPose(stage: ModelStage): void {
  const { pose } = desk.playhead;
  if (pose) stage.showPose(pose, desk.layersNow.pose === pose ? desk.layersNow.stacks : null);
}

function showLook(stage: ModelStage): void {
  const { lesson } = desk.store.document;
  const { dark } = desk.store.look;
  if (!lesson) return;
  const { sides, sideUp, size, thickness = usualThickness } = lesson.sheet;
  const [up, down] = sideUp === 'a' ? [sides.a, sides.b] : [sides.b, sides.a];
  stage.setLook({
    up: up.colour,
    down: down.colour,
    inkUp: inksOn(up.colour),
    inkDown: inksOn(down.colour),
    inkGlass: inksOn(dark ? DARK_TABLE : LIGHT_TABLE),
    ground: dark ? DARK_TABLE : LIGHT_TABLE,
    accent: accentOn([up.colour, down.colour]),
    dark,
    sheetSize: size,
    thickness,
  });
}

function showMarks(stage: ModelStage): void {
  const { selection, picked, hover, marks } = desk.store.look;
  stage.setMarks({
    panels: [...parts(selection), ...(marks?.panels ?? []).flatMap((id) => parts({ kind: 'panel', id }))],
    creases: [...(selection?.kind === 'crease' ? [selection.id, ...picked] : []), ...(marks?.creases ?? [])],
    hoverPanels: parts(hover),
    hoverCrease: hover?.kind === 'crease' ? hover.id : null,
  });
}

/** Panels of the shown sheet that a panel of the lesson's sheet was cut into; none for what is no panel. */
function parts(what: Selection | null): number[] {
  const { pose, board } = desk.playhead;
  if (what?.kind !== 'panel' || !pose || !board) return [];
  return [...board.partsOf(pose, [what.id])];
}
