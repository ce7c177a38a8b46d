/** Small pictures of the steps, taken anew when the paper looks different. */
import type { Clock, End, ScreenPlace } from '../around.ts';
import type { Store } from '../store.ts';

/** Waits this long after the last change of a colour. */
const REST_MILLISECONDS = 500;

export class Pictures {
  private halt: End = () => {};

  constructor(
    private readonly store: Store,
    private readonly screen: ScreenPlace,
    private readonly clock: Clock,
  ) {}

  takeAll(): void {
    this.store.run.steps.forEach((one, step) => {
      if (one.report) this.screen.now?.takePicture(step);
    });
  }

  takeAllSoon(): void {
    this.halt();
    this.halt = this.clock.later(() => this.takeAll(), REST_MILLISECONDS);
  }
}
