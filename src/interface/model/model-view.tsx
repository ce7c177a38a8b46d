/** The folded model. The scene is fetched after the first paint; poses reach it without passing through React. */

import { ArrowDownToLine, Eye, FlipHorizontal2, Maximize, RotateCcw, RotateCw } from 'lucide-react';
import { type KeyboardEvent, type PointerEvent, useEffect, useRef } from 'react';
import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components';
import { usualThickness, usualTurn } from '../../core/lesson/lesson.ts';
import { placeOf } from '../../core/pose/place.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { type ViewName, viewNames } from '../../core/lesson/eye.ts';
import { across, acrossActions, acrossPointOf, movingPaper, useAcross } from '../../desk/tools/folding.ts';
import { AcrossRow, AcrossTool } from './across-row.tsx';
import { actions, pickCrease, view } from '../../desk/document/paper.ts';
import { carryOut } from '../../desk/document/edits.ts';
import { accentOn, inksOn } from '../parts/ink.ts';
import { bindInside, insideNow } from '../../desk/tools/inside.ts';
import { setInside } from '../../desk/tools/inside-wishes.ts';
import { InsideRows, InsideTools } from '../inside/inside-tools.tsx';
import { layersNow } from '../../desk/run/layers-now.ts';
import { Tool } from '../parts/parts.tsx';
import { playhead, stepAt } from '../../desk/play/playhead.ts';
import { RING, ringsNow } from '../../desk/tools/rings.ts';
import { dragCorner, onLesson, onStepEnd } from '../../desk/document/opening.ts';
import { outlineOfSlice, SliceHandle } from './slice-handle.tsx';
import { lookAsStepSays, standAsLeft } from '../../desk/play/step-looks.ts';
import { get, isTurned, type Selection, set, setStep, useStore } from '../../desk/store.ts';
import { usePlace } from '../storyboard/storyboard.tsx';
import { viewWords, words } from '../../words/words.ts';

/** How near a crease, and a corner to be dragged, the pointer must be, pixels. */
const REACH = 9;
/** The table as its colours stand in the style sheet. */
const LIGHT_TABLE = '#ebe6dd';
const DARK_TABLE = '#25221e';
const PICTURE = { width: 264, height: 176 };

export function ModelView() {
  const canvas = useRef<HTMLCanvasElement>(null);
  const overlay = useRef<SVGSVGElement>(null);
  const stage = useRef<ModelStage | null>(null);
  const lesson = useStore((state) => state.lesson);
  const graphics = useStore((state) => state.graphics);
  const verdict = useStore((state) => state.verdict);
  const turned = useStore((state) => state.turned !== state.stepTurned);

  useEffect(() => {
    let gone = false;
    let takeDown = () => {};
    const start = async () => {
      try {
        const { mountStage } = await import('../../scene/mount.tsx');
        if (gone || !canvas.current) return;
        const mounted = await mountStage(canvas.current, {
          onLost: () => set({ graphics: 'lost' }),
          onBack: () => set({ graphics: 'shown' }),
        });
        takeDown = bind(mounted.stage, overlay.current!, mounted.unmount);
        stage.current = mounted.stage;
        view.stage = mounted.stage;
        standAsLeft();
        set({ graphics: 'shown' });
        if (gone) takeDown();
      } catch {
        set({ graphics: 'none' });
      }
    };
    // The sheet is on screen first; the model comes when the browser has a moment.
    const wait = setTimeout(start, 30);
    return () => {
      gone = true;
      clearTimeout(wait);
      takeDown();
      view.stage = null;
    };
  }, []);

  const hand = usePointer(stage);
  const onKey = (event: KeyboardEvent) => {
    const rig = stage.current?.rig;
    if (!rig || event.ctrlKey || event.metaKey) return;
    const turn = { ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] }[
      event.key
    ];
    if (turn) rig.nudge(turn[0]!, turn[1]!, 1);
    else if (event.key === '+' || event.key === '=') rig.nudge(0, 0, 1 / 1.15);
    else if (event.key === '-') rig.nudge(0, 0, 1.15);
    else return;
    stage.current!.invalidate();
    event.preventDefault();
    event.stopPropagation();
  };

  return (
    <section className="view model-view" aria-label={words.model}>
      <h2 className="view-name">{words.model}</h2>
      <div
        className="model-board"
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys turn the view
        tabIndex={0}
        aria-label={words.modelPicture(lesson?.title ?? '')}
        onKeyDown={onKey}
        onPointerDownCapture={hand.down}
        onPointerMoveCapture={hand.move}
        onPointerUpCapture={hand.up}
        onPointerCancelCapture={hand.up}
        onPointerLeave={() => {
          set({ hover: null });
          setInside({ pointer: null });
        }}
      >
        <canvas ref={canvas} data-testid="model-canvas" />
        <svg ref={overlay} className="model-overlay" aria-hidden="true" />
      </div>
      {graphics === 'none' && <p className="model-words">{words.noGraphics}</p>}
      {graphics === 'lost' && (
        <p className="model-words" role="status">
          {words.contextLost}
        </p>
      )}
      <TurnMark />
      <SliceHandle />
      <AcrossRow />
      <InsideRows />
      <div className="tool-dock">
        <div className="tools">
          <MenuTrigger>
            <Button className="tool tool-wide">
              <Eye size={17} strokeWidth={1.75} aria-hidden="true" />
              {words.view}
            </Button>
            <Popover className="popover" placement="top">
              <Menu
                className="menu"
                aria-label={words.view}
                onAction={(key) => actions.look(key as ViewName)}
              >
                {viewNames.map((name, k) => (
                  <MenuItem key={name} id={name} className="menu-item" textValue={viewWords[name]}>
                    {viewWords[name]}
                    <kbd>{k + 1}</kbd>
                  </MenuItem>
                ))}
              </Menu>
            </Popover>
          </MenuTrigger>
          <Tool
            label={words.turnOver}
            icon={FlipHorizontal2}
            keyName="T"
            pressed={turned}
            onPress={actions.turnOver}
          />
          <Tool
            label={verdict ? words.liftFromTable : words.setOnTable}
            icon={ArrowDownToLine}
            keyName="D"
            pressed={verdict !== null}
            onPress={() => void actions.setOnTable()}
          />
          <Tool label={words.fitModel} icon={Maximize} keyName="F" onPress={actions.fit} />
          <AcrossTool />
        </div>
        <InsideTools />
      </div>
    </section>
  );
}

/** A turning arrow while a step turns the model round. */
function TurnMark() {
  const lesson = useStore((state) => state.lesson);
  const place = usePlace();
  if (!lesson || place === 0) return null;
  const step = lesson.steps[stepAt(place, lesson.steps.length)];
  if (step?.kind !== 'rotate' || step.off) return null;
  const { turn = usualTurn } = step;
  const Arrow = turn > 0 ? RotateCcw : RotateCw;
  return (
    <p className="turn-mark" aria-hidden="true">
      <Arrow size={30} strokeWidth={1.5} />
      {words.degreesOf(Math.abs(turn))}
    </p>
  );
}

/** Ties a stage to the store and the playhead. @returns a call that unties it */
function bind(stage: ModelStage, overlay: SVGSVGElement, unmount: () => void): () => void {
  const showPose = () => {
    const { pose } = playhead;
    if (pose) stage.showPose(pose, layersNow.pose === pose ? layersNow.stacks : null);
  };
  const showLook = () => {
    const { lesson, dark } = get();
    if (!lesson) return;
    const { sides, sideUp, size, thickness = usualThickness } = lesson.sheet;
    const [up, down] = sideUp === 'a' ? [sides.a, sides.b] : [sides.b, sides.a];
    stage.setLook({
      up: up.colour,
      down: down.colour,
      inkUp: inksOn(up.colour),
      inkDown: inksOn(down.colour),
      inkGlass: inksOn(dark ? DARK_TABLE : LIGHT_TABLE),
      accent: accentOn([up.colour, down.colour]),
      dark,
      sheetSize: size,
      thickness,
    });
  };
  const showMarks = () => {
    const { selection, picked, hover, marks } = get();
    stage.setMarks({
      panels: [
        ...parts(selection, 'panel'),
        ...(marks?.panels ?? []).flatMap((id) => parts({ kind: 'panel', id }, 'panel')),
      ],
      creases: [
        ...(selection?.kind === 'crease' ? [selection.id, ...picked] : []),
        ...(marks?.creases ?? []),
      ],
      hoverPanels: parts(hover, 'panel'),
      hoverCrease: hover?.kind === 'crease' ? hover.id : null,
    });
  };
  stage.onDrawn = () => {
    drawOverlay(stage, overlay);
    insideNow.eyeMoved();
    view.eyeMoved();
  };
  const freeInside = bindInside(stage);
  let sheet = playhead.pose?.sheet;
  const untie = [
    useAcross.subscribe(() => stage.invalidate()),
    playhead.subscribe(lookAsStepSays),
    playhead.subscribe(() => {
      showPose();
      if (playhead.pose?.sheet !== sheet) {
        sheet = playhead.pose?.sheet;
        showMarks();
      }
    }),
    layersNow.subscribe(showPose),
    useStore.subscribe((now, before) => {
      if (now.lesson !== before.lesson || now.dark !== before.dark) showLook();
      if (now.lesson !== before.lesson) lookAsStepSays();
      if (now.selection !== before.selection || now.hover !== before.hover || now.marks !== before.marks)
        showMarks();
      if (now.rest !== before.rest) stage.invalidate();
      if (now.verdict !== before.verdict && !now.verdict) stage.setRest(null);
    }),
  ];
  onLesson.call = () => {
    stage.rig.reframe();
    stage.turnOver(false, false);
  };
  const take = async (step: number) => {
    const { board } = playhead;
    if (!board) return;
    // another lesson may be on the table by now
    const last = board.steps[step]?.poses.at(-1);
    if (!last) return;
    const picture = await stage.picture(board.poseAt(step + last.at), PICTURE.width, PICTURE.height);
    if (picture && playhead.board === board) setStep(step, { picture });
  };
  onStepEnd.call = (step) => void retake(() => take(step));
  carryOut.eye = () => stage.rig.place;
  view.picturesAgain = () => {
    get().steps.forEach((one, step) => {
      if (one.report) void retake(() => take(step));
    });
  };
  showLook();
  stage.turnOver(isTurned(), false);
  showPose();
  showMarks();
  view.picturesAgain();
  return () => {
    for (const call of untie) call();
    freeInside();
    onStepEnd.call = () => {};
    onLesson.call = () => {};
    view.picturesAgain = () => {};
    carryOut.eye = () => null;
    unmount();
  };
}

let queue: Promise<void> = Promise.resolve();

/** Pictures are taken one after the other, each in a moment when nothing else waits. */
function retake(take: () => Promise<void>): Promise<void> {
  queue = queue.then(() => new Promise<void>((resolve) => setTimeout(resolve, 60))).then(take, take);
  return queue;
}

/** Panels of the shown sheet that a panel of the lesson's sheet was cut into. */
function parts(what: Selection | null, kind: 'panel'): number[] {
  const { pose, board } = playhead;
  if (what?.kind !== kind || !pose || !board) return [];
  const list: number[] = [];
  for (let p = 0; p < pose.sheet.panelRings.length; p++)
    if (board.ownPanel(pose.step, p) === what.id) list.push(p);
  return list;
}

/** Rings round corners that do not close or are pointed at, and the degrees of bent panels. */
function drawOverlay(stage: ModelStage, overlay: SVGSVGElement): void {
  const { pose } = playhead;
  const rings = ringsNow();
  let html = '';
  if (pose) {
    for (const [vertex, name] of rings) {
      const at = cornerPlace(pose, vertex);
      if (!at) continue;
      const { x, y } = stage.toScreen(at);
      html += `<circle class="${name}" cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="${RING}"/>`;
    }
    html += acrossLine(stage);
    html += bendLabels(stage, pose);
  }
  const slice = outlineOfSlice(stage);
  if (slice) {
    html += `<path class="slice-outline" d="${slice.path}"/>`;
    const handle = document.getElementById('slice-handle');
    if (handle)
      handle.style.transform = `translate(${slice.handle.x.toFixed(1)}px, ${slice.handle.y.toFixed(1)}px)`;
  }
  if (overlay.innerHTML !== html) overlay.innerHTML = html;
}

/** The line of a fold that is being made on the model. */
function acrossLine(stage: ModelStage): string {
  const { on, points } = across();
  if (!on) return '';
  const places = points.map(({ at }) => stage.toScreen(at));
  const dots = places.map(
    ({ x, y }) => `<circle class="across-point" cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="5"/>`,
  );
  const [a, b] = places;
  if (!a || !b) return dots.join('');
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const far = 2000 / (Math.hypot(dx, dy) || 1);
  const ends = [a.x - far * dx, a.y - far * dy, b.x + far * dx, b.y + far * dy].map((one) => one.toFixed(1));
  const paper = movingPaper().map((corners) => {
    const at = corners.map((corner) => stage.toScreen([corner[0], corner[1], corner[2]]));
    return `<polygon class="across-paper" points="${at.map(({ x, y }) => `${x.toFixed(1)},${y.toFixed(1)}`).join(' ')}"/>`;
  });
  return `${paper.join('')}<line class="across-line" x1="${ends[0]}" y1="${ends[1]}" x2="${ends[2]}" y2="${ends[3]}"/>${dots.join('')}`;
}

type Pose = NonNullable<typeof playhead.pose>;

function cornerPlace(pose: Pose, vertex: number): [number, number, number] | null {
  const { sheet, placement } = pose;
  for (let h = 0; h < sheet.halfEdgePanel.length; h++) {
    const origin = (h & 1) === 0 ? sheet.creaseFrom[h >> 1]! : sheet.creaseTo[h >> 1]!;
    const panel = sheet.halfEdgePanel[h]!;
    if (origin === vertex && panel >= 0)
      return placeOf(placement, panel, sheet.vertexX[vertex]!, sheet.vertexY[vertex]!);
  }
  return null;
}

/** Only the panels that bend most are labelled; the hatching tells of the others. */
function bendLabels(stage: ModelStage, pose: Pose): string {
  const { board } = playhead;
  if (!board) return '';
  const worst = new Map<number, { panel: number; bend: number }>();
  pose.bends.forEach((bend, panel) => {
    if (bend >= 0.5) {
      const own = board.ownPanel(pose.step, panel);
      if (!worst.has(own)) worst.set(own, { panel, bend });
    }
  });
  const shown = [...worst.values()].sort((a, b) => b.bend - a.bend).slice(0, 6);
  return shown
    .map(({ panel, bend }) => {
      const at = panelMiddle(pose, panel);
      const { x, y } = stage.toScreen(at);
      return `<text class="bend-label" x="${x.toFixed(1)}" y="${y.toFixed(1)}">${bend.toFixed(0)}°</text>`;
    })
    .join('');
}

function panelMiddle({ sheet, placement }: Pose, panel: number): [number, number, number] {
  let [x, y, count] = [0, 0, 0];
  const first = sheet.panelRings[panel]![0]!;
  let h = first;
  do {
    const v = (h & 1) === 0 ? sheet.creaseFrom[h >> 1]! : sheet.creaseTo[h >> 1]!;
    x += sheet.vertexX[v]!;
    y += sheet.vertexY[v]!;
    count++;
    h = sheet.halfEdgeNext[h]!;
  } while (h !== first);
  return placeOf(placement, panel, x / count, y / count);
}

/** Pointing, choosing, and dragging a corner; everything else is left to the orbit controls. */
function usePointer(stage: { current: ModelStage | null }) {
  const press = useRef<{ x: number; y: number; vertex: number | null; at: [number, number, number] } | null>(
    null,
  );
  const busy = useRef(false);
  const next = useRef<[number, number, number] | null>(null);

  const local = (event: PointerEvent) => {
    const { left, top } = event.currentTarget.getBoundingClientRect();
    return { x: event.clientX - left, y: event.clientY - top };
  };
  const found = (x: number, y: number) => {
    const { pose, board } = playhead;
    const pick = pose && board ? (stage.current?.pick(x, y, REACH) ?? null) : null;
    if (!pick || !pose || !board) return { selection: null, vertex: null, panel: 0, point: null };
    const own = pick.crease !== null && pick.crease < pose.ownCreases;
    const selection: Selection = own
      ? { kind: 'crease', id: pick.crease! }
      : { kind: 'panel', id: board.ownPanel(pose.step, pick.panel) };
    const point = { x: pick.flat[0], y: pick.flat[1], side: pick.side };
    return { selection, vertex: pick.vertex, panel: pick.panel, point };
  };
  const pull = async () => {
    if (busy.current || !next.current || press.current?.vertex == null) return;
    busy.current = true;
    const goal = next.current;
    next.current = null;
    await dragCorner(press.current.vertex, goal);
    busy.current = false;
    void pull();
  };

  return {
    down: (event: PointerEvent) => {
      if (!event.isPrimary || event.button !== 0) return;
      const { x, y } = local(event);
      const { vertex, panel } = found(x, y);
      const pose = playhead.pose;
      const at: [number, number, number] =
        vertex !== null && pose
          ? placeOf(pose.placement, panel, pose.sheet.vertexX[vertex]!, pose.sheet.vertexY[vertex]!)
          : [0, 0, 0];
      const canDrag = vertex !== null && !across().on && !get().computing && !get().verdict && !isTurned();
      press.current = { x, y, vertex: canDrag ? vertex : null, at };
      stage.current?.hold(canDrag);
      if (canDrag) event.currentTarget.setPointerCapture(event.pointerId);
    },
    move: (event: PointerEvent) => {
      const { x, y } = local(event);
      const held = press.current;
      if (!held) {
        if (event.pointerType === 'touch') return;
        const { selection, vertex, point } = found(x, y);
        setInside({ pointer: point });
        const { hover: old } = get();
        if (selection?.kind !== old?.kind || selection?.id !== old?.id) set({ hover: selection });
        (event.currentTarget as HTMLElement).dataset.grab = String(vertex !== null);
        return;
      }
      if (held.vertex === null || Math.hypot(x - held.x, y - held.y) < 4) return;
      next.current = stage.current?.fromScreen(x, y, held.at) ?? null;
      void pull();
    },
    up: (event: PointerEvent) => {
      const held = press.current;
      press.current = null;
      stage.current?.hold(false);
      if (!held || event.type !== 'pointerup') return;
      const { x, y } = local(event);
      if (Math.hypot(x - held.x, y - held.y) >= 4) return;
      if (across().on) {
        const pick = stage.current?.pick(x, y, REACH);
        const taken = pick && acrossPointOf(pick);
        if (taken) acrossActions.addPoint(taken, stage.current!);
        return;
      }
      const { selection, point } = found(x, y);
      if (event.shiftKey && selection?.kind === 'crease') {
        pickCrease(selection.id);
        return;
      }
      setInside({ point, peeled: 0 });
      set({ selection, picked: [], marks: null });
    },
  };
}
