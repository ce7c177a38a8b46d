/** A worker that cannot be loaded, throws or falls silent: every request is answered, and the next one starts anew. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Door, signOfLife, type WorkerPort } from '../../src/worker/door.ts';

interface Question {
  readonly kind: 'question';
  readonly job: number;
}
interface Answer {
  readonly kind: 'answer';
  readonly job: number;
}

class Port implements WorkerPort {
  readonly heard: Question[] = [];
  ended = false;
  onmessage: WorkerPort['onmessage'] = null;
  onerror: WorkerPort['onerror'] = null;
  onmessageerror: WorkerPort['onmessageerror'] = null;
  postMessage(message: unknown): void {
    this.heard.push(message as Question);
  }
  terminate(): void {
    this.ended = true;
  }
  say(data: { kind: string; job: number }): void {
    this.onmessage!({ data } as MessageEvent);
  }
}

/** A door, and every worker that it starts. */
function door() {
  const ports: Port[] = [];
  const made = new Door<Question, Answer>(() => {
    ports.push(new Port());
    return ports.at(-1)!;
  }, 1000);
  return { made, ports };
}

afterEach(() => void vi.useRealTimers());

describe('the door to a worker', () => {
  it('brings each answer to its own request', async () => {
    const { made, ports } = door();
    const [first, second] = [made.ask({ kind: 'question' }), made.ask({ kind: 'question' })];
    const [a, b] = ports[0]!.heard;
    ports[0]!.say({ kind: 'answer', job: b!.job });
    ports[0]!.say({ kind: 'answer', job: a!.job });
    expect(await second).toEqual({ kind: 'answer', job: b!.job });
    expect(await first).toEqual({ kind: 'answer', job: a!.job });
    expect(ports).toHaveLength(1);
  });

  it('tells all that wait when the worker throws, and starts another for the next request', async () => {
    const { made, ports } = door();
    const waiting = [made.ask({ kind: 'question' }), made.ask({ kind: 'question' })];
    ports[0]!.onerror!({ message: 'out of paper' } as ErrorEvent);
    for (const one of waiting) expect(await one).toMatchObject({ kind: 'broke', message: 'out of paper' });
    expect(ports[0]!.ended).toBe(true);
    const again = made.ask({ kind: 'question' });
    ports[1]!.say({ kind: 'answer', job: ports[1]!.heard[0]!.job });
    expect((await again).kind).toBe('answer');
  });

  it('takes a worker that cannot be started at all for broken', async () => {
    const made = new Door<Question, Answer>(() => {
      throw new Error('no workers here');
    });
    expect(await made.ask({ kind: 'question' })).toMatchObject({
      kind: 'broke',
      message: 'no workers here',
    });
  });

  it('takes a silent worker for dead, but not one that gives signs of life', async () => {
    vi.useFakeTimers();
    const { made, ports } = door();
    const heard: string[] = [];
    void made.ask({ kind: 'question' }).then(({ kind }) => heard.push(kind));
    const { job } = ports[0]!.heard[0]!;
    for (let k = 0; k < 5; k++) {
      await vi.advanceTimersByTimeAsync(900);
      ports[0]!.say({ kind: 'alive', job });
    }
    expect(heard).toEqual([]);
    await vi.advanceTimersByTimeAsync(1001);
    expect(heard).toEqual(['broke']);
    expect(ports[0]!.ended).toBe(true);
  });

  it('watches over a worker only as long as something is asked of it', async () => {
    vi.useFakeTimers();
    const { made, ports } = door();
    void made.ask({ kind: 'question' });
    expect(vi.getTimerCount()).toBe(1);
    ports[0]!.say({ kind: 'answer', job: ports[0]!.heard[0]!.job });
    expect(vi.getTimerCount()).toBe(0);
  });

  // tests/browser/idle.ts knows by this time that a worker is at work
  it('waits for twenty seconds unless told otherwise', async () => {
    vi.useFakeTimers();
    const port = new Port();
    const asked = new Door<Question, Answer>(() => port).ask({ kind: 'question' });
    await vi.advanceTimersByTimeAsync(19_999);
    expect(port.ended).toBe(false);
    await vi.advanceTimersByTimeAsync(1);
    expect(await asked).toMatchObject({ kind: 'broke', message: 'silent' });
  });

  it('says to all that wait that they were cancelled when it is closed', async () => {
    const { made, ports } = door();
    const one = made.ask({ kind: 'question' });
    made.close();
    expect((await one).kind).toBe('cancelled');
    expect(ports[0]!.ended).toBe(true);
    expect(made.busy).toBe(false);
  });

  it('hears nothing of a job that was forgotten', () => {
    const { made, ports } = door();
    const heard: string[] = [];
    const job = made.listen({ kind: 'question' }, ({ kind }) => heard.push(kind));
    ports[0]!.say({ kind: 'answer', job });
    made.forget(job);
    ports[0]!.say({ kind: 'answer', job });
    expect(heard).toEqual(['answer']);
  });
});

it('signs of life are at most two a second', () => {
  vi.useFakeTimers();
  const signs: number[] = [];
  const alive = signOfLife(7, ({ job }) => signs.push(job));
  for (let k = 0; k < 30; k++) {
    vi.advanceTimersByTime(100);
    alive();
  }
  expect(signs).toEqual([7, 7, 7, 7, 7, 7]);
});
