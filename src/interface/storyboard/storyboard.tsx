/** The steps in a strip, and the one slider that runs along all of them. */

import { ChevronUp, Pause, Play, StepBack, StepForward } from 'lucide-react';
import { type KeyboardEvent, useEffect, useMemo, useRef, useSyncExternalStore } from 'react';
import { KIND } from '../../core/sheet/kind.ts';
import { NUDGE } from '../../desk/commands.ts';
import { stepAt } from '../../desk/play/playhead.ts';
import { failureText, type Remark, remarkOn } from '../../desk/run/standing.ts';
import { callingOf } from '../../desk/run/told-findings.ts';
import { called } from '../../words/calling.ts';
import { verdictSentence } from '../../words/verdict-words.ts';
import { stepKindWords, words } from '../../words/words.ts';
import { desk, useDesk, usePlace } from '../desk.ts';
import { Button } from '../parts/button.tsx';
import { inkOn } from '../parts/ink.ts';
import { Tool } from '../parts/tool.tsx';
import { creasePath, rimPath } from '../sheet/sheet-drawing.ts';
import { AddStep, CardMenu, useCardDrag } from './card-menu.tsx';
import './storyboard.css';

/** On a phone there is no column beside the model: its sentence and what is wrong stand here, the rest on a sheet. */
function PhoneWords({ count }: { count: number }) {
  const here = stepAt(usePlace(), count);
  const document = useDesk((state) => state.document);
  const run = useDesk((state) => state.run);
  const verdict = useDesk((state) => state.look.verdict);
  const toldMore = useDesk((state) => state.look.toldMore);
  const { lesson } = document;
  const sides = lesson?.sheet;
  const known = useMemo(() => remarkOn({ document, run }, here), [document, run, here]);
  const remark: Remark | null =
    verdict && sides
      ? { tone: 'plain', text: called(callingOf(document), () => verdictSentence(verdict, sides)) }
      : known;
  return (
    <Button
      className="phone-words"
      aria-expanded={toldMore}
      onPress={() => desk.store.put({ look: { toldMore: !toldMore, selection: null } })}
      data-testid="phone-words"
    >
      <span className="phone-sentence">{lesson?.steps[here]?.sentence}</span>
      {remark && <span className={`phone-remark is-${remark.tone}`}>{remark.text}</span>}
      <ChevronUp className="phone-more" size={18} strokeWidth={1.75} aria-label={words.moreAbout} />
    </Button>
  );
}

export function Storyboard() {
  const lesson = useDesk((state) => state.document.lesson);
  const steps = useDesk((state) => state.run.steps);
  const playing = useDesk((state) => state.look.playing);
  const computing = useDesk((state) => state.run.computing);
  const count = Math.max(1, steps.length);
  const at = steps.findIndex((one) => one.status === 'computing');
  const unfinished =
    !computing &&
    steps.some((one) => one.status === 'waiting') &&
    !steps.some((one) => one.status === 'fails');
  return (
    <section className="storyboard" aria-label={words.storyboard}>
      {lesson && <PhoneWords count={count} />}
      <div className="transport">
        <h2 className="view-name">{words.storyboard}</h2>
        <div className="transport-words">
          <p role="status">
            {computing && at >= 0 ? (
              `${words.workingOn(at + 1)}, ${words.percent(steps[at]!.reached)}`
            ) : (
              <StepCount count={count} />
            )}
          </p>
          {computing && (
            <Button className="link-button" onPress={() => void desk.tracks.cancel()}>
              {words.cancel}
            </Button>
          )}
          {unfinished && (
            <Button className="link-button" onPress={() => void desk.tracks.compute(desk.playhead.place)}>
              {words.computeAgain}
            </Button>
          )}
        </div>
        <AddStep />
        <div className="transport-buttons">
          <Tool
            label={words.back}
            keyName={desk.commands.keyOf('stepBack')}
            icon={StepBack}
            onPress={() => desk.player.step(-1)}
          />
          <Tool
            label={playing ? words.stop : words.play}
            keyName={desk.commands.keyOf('play')}
            icon={playing ? Pause : Play}
            onPress={desk.player.play}
            large
          />
          <Tool
            label={words.forward}
            keyName={desk.commands.keyOf('stepOn')}
            icon={StepForward}
            onPress={() => desk.player.step(1)}
          />
        </div>
      </div>
      {lesson && steps.length === 0 && <p className="strip-empty">{words.noSteps}</p>}
      {lesson && steps.length > 0 && (
        <div className="strip">
          <div
            className={`strip-inner${count > 4 ? ' strip-many' : ''}`}
            style={{ '--steps': count } as React.CSSProperties}
          >
            <div className="cards">
              {lesson?.steps.map((_, k) => (
                <Card key={`${lesson.title} ${k}`} index={k} />
              ))}
            </div>
            <FoldSlider count={count} />
          </div>
        </div>
      )}
    </section>
  );
}

function StepCount({ count }: { count: number }) {
  const place = usePlace();
  return <>{place === 0 ? words.flatStart : words.stepOf(stepAt(place, count) + 1, count)}</>;
}

function Card({ index }: { index: number }) {
  const step = useDesk((state) => state.document.lesson?.steps[index]);
  const state = useDesk((one) => one.run.steps[index]);
  const here = useSyncExternalStore(
    desk.playhead.subscribe,
    () =>
      desk.playhead.place > 0 &&
      stepAt(desk.playhead.place, desk.playhead.board?.steps.length ?? 1) === index,
  );
  const isOld = usePictureOld(index);
  const { handlers, dragged } = useCardDrag(index);
  const place = useRef<HTMLDivElement>(null);
  // a long strip follows the slider, but not under the hand that holds it
  useEffect(() => {
    if (here && !document.querySelector('.fold-range:active'))
      place.current?.scrollIntoView({ inline: 'nearest', block: 'nearest' });
  }, [here]);
  if (!step || !state) return null;
  const fails = state.status === 'fails';
  const trouble = fails
    ? failureText(state)
    : state.report?.outcome === 'bends'
      ? words.stepBends(state.report.bendDegrees)
      : null;
  return (
    <div
      ref={place}
      className={`card-place${fails ? ' card-place-fails' : ''}`}
      data-step={index}
      {...handlers}
    >
      <Button
        className={`card${here ? ' card-here' : ''}${step.off ? ' card-off' : ''}`}
        onPress={() => {
          if (!dragged()) desk.player.goTo(index + 1);
        }}
        aria-current={here ? 'step' : undefined}
        aria-keyshortcuts="Alt+ArrowLeft Alt+ArrowRight"
      >
        <span className="card-picture" aria-hidden="true" data-old={isOld || undefined}>
          {state.picture ? (
            <img src={state.picture} alt="" draggable={false} />
          ) : (
            <FlatPicture index={index} />
          )}
        </span>
        <span className="card-words">
          <span className="card-title">{step.title}</span>
          <span className="card-kind">
            {index + 1} ·{' '}
            <span className="card-usual">
              {stepKindWords[step.kind]}
              {step.minutes !== undefined && ` · ${step.minutes} ${words.minutesShort}`}
              {step.off && ` · ${words.isOff}`}
            </span>
            {fails && <span className="card-stops is-bad">{words.stopsAt(state.reached)}</span>}
            {isOld && <span className="unseen">{words.pictureOld}</span>}
            {state.layers?.asks && <span className="card-note">{words.stackingAsk}</span>}
          </span>
          {trouble && <span className={`card-trouble${fails ? ' is-bad' : ''}`}>{trouble}</span>}
        </span>
      </Button>
      <CardMenu index={index} />
      {fails && <BendOffer index={index} />}
    </div>
  );
}

/** A picture behind a step that fails shows what was before: nothing is known of its step now. */
const usePictureOld = (index: number): boolean =>
  useDesk(({ run: { steps } }) => {
    const failed = steps.findIndex(({ status }) => status === 'fails');
    return failed >= 0 && failed < index && steps[index]?.picture !== null;
  });

/** Stiff panels failed: bending ones have not been tried yet. */
export function BendOffer({ index }: { index: number }) {
  const bend = useDesk((state) => state.run.bend);
  const stopped = useDesk((state) => state.run.steps[index]?.report?.outcome === 'stopped');
  if (bend || stopped) return null;
  return (
    <Button className="quiet-button bend-offer" onPress={desk.paper.toggleBend}>
      {words.bend}
    </Button>
  );
}

/** Before the model's picture is there: the flat sheet with the creases that this step drives. */
function FlatPicture({ index }: { index: number }) {
  const sheet = useDesk((state) => state.document.sheet);
  const stage = useDesk((state) => state.document.stages[index]);
  const paper =
    useDesk((state) => state.document.lesson?.sheet.sides[state.document.lesson.sheet.sideUp].colour) ??
    '#f6f2e8';
  if (!sheet || !stage) return null;
  let [mountains, valleys] = ['', ''];
  let drawn = 0;
  for (let e = 0; e < stage.target.length && drawn < 400; e++) {
    const target = stage.target[e]!;
    if (Number.isNaN(target) || target === 0) continue;
    if (target < 0 || sheet.creaseKind[e] === KIND.mountain) mountains += creasePath(sheet, e);
    else valleys += creasePath(sheet, e);
    drawn++;
  }
  return (
    <svg aria-hidden="true" viewBox="-0.03 -1.03 1.06 1.06">
      <g transform="scale(1 -1)" fill="none">
        <path d={rimPath(sheet)} fill={paper} stroke={inkOn(paper, 'edge')} strokeWidth="0.012" />
        <path
          d={mountains}
          stroke={inkOn(paper, 'mountain')}
          strokeWidth="0.012"
          strokeDasharray="0.07 0.02 0.012 0.02 0.012 0.02"
        />
        <path d={valleys} stroke={inkOn(paper, 'valley')} strokeWidth="0.012" strokeDasharray="0.045 0.028" />
      </g>
    </svg>
  );
}

function FoldSlider({ count }: { count: number }) {
  const place = usePlace();
  const steps = useDesk((state) => state.run.steps);
  const lesson = useDesk((state) => state.document.lesson);
  const here = stepAt(place, count);
  const title = lesson?.steps[here]?.title ?? '';
  const text = place === 0 ? words.flatStart : words.sliderText(here + 1, title, place - here);
  const onKey = (event: KeyboardEvent) => {
    const by = { ArrowRight: NUDGE, ArrowUp: NUDGE, ArrowLeft: -NUDGE, ArrowDown: -NUDGE }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    desk.player.nudge(event.shiftKey ? by / 5 : by);
  };
  return (
    <div className="fold-slider">
      <div className="track" aria-hidden="true">
        {steps.map((one, k) => (
          <span
            key={`segment ${k}`}
            className={`segment segment-${one.status}`}
            style={
              {
                '--done': Math.max(0, Math.min(1, place - k, one.reached || 0)),
                '--reached': one.status === 'ready' ? 1 : one.reached,
              } as React.CSSProperties
            }
          />
        ))}
      </div>
      <input
        className="fold-range"
        type="range"
        aria-label={words.fold}
        aria-valuetext={text}
        min={0}
        max={count}
        step={0.002}
        value={place}
        onChange={(event) => desk.player.takeInHand(Number(event.currentTarget.value))}
        onKeyDown={onKey}
      />
    </div>
  );
}
