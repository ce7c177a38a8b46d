import { type RefObject, useEffect } from 'react';
import type { End } from '../../desk/around.ts';
import type { ModelStage } from '../../scene/stage.ts';
import { desk } from '../desk.ts';

/** The sheet is on screen first; the model comes when the browser has a moment, milliseconds. */
const MOMENT = 30;

/** Fetches the model and brings it onto its canvas. @param stage where it can be found once it is there */
export function useModel(
  canvas: RefObject<HTMLCanvasElement | null>,
  overlay: RefObject<SVGSVGElement | null>,
  stage: { current: ModelStage | null },
): void {
  useEffect(() => {
    let end: End | null = null;
    let gone = false;
    const mount = async () => {
      const { mountModel } = await import('./mount-model.ts');
      if (!gone) end = mountModel(canvas.current!, overlay.current!, stage);
    };
    const failed = () => desk.store.put({ look: { graphics: 'none' } });
    const wait = setTimeout(() => void mount().catch(failed), MOMENT);
    return () => {
      gone = true;
      clearTimeout(wait);
      end?.();
    };
  }, [canvas, overlay, stage]);
}
