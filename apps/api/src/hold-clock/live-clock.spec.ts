import { afterEach, beforeEach, describe, expect, jest, test } from '@jest/globals';
import { Refused } from '../http/problem.js';
import type { HoldClockAnswer } from './hold-clock.dto.js';
import { LatestStream } from './latest-stream.js';
import { LiveClock } from './live-clock.js';

const answer = (number: number, line: Partial<HoldClockAnswer['line']> = {}): HoldClockAnswer =>
  ({ at: `2026-03-02T08:00:00.00000${number}Z`, line: { state: 'running', readingAgeS: 0, staleAfterS: 600, because: 'old', lastReading: null, ...line } }) as HoldClockAnswer;

describe('one clock for all who listen', () => {
  let asked: number;
  let answers: (() => Promise<HoldClockAnswer>) | null;
  let clock: LiveClock;
  const heard: string[][] = [];

  beforeEach(() => {
    jest.useFakeTimers({ doNotFake: ['setImmediate', 'nextTick', 'queueMicrotask'] });
    asked = 0;
    answers = null;
    heard.length = 0;
    clock = new LiveClock(() => {
      asked += 1;
      return answers?.() ?? Promise.resolve(answer(asked));
    });
  });
  afterEach(() => {
    clock.close();
    jest.useRealTimers();
  });

  const settle = (): Promise<void> => new Promise((resolve) => { setImmediate(resolve); });
  async function after(ms: number): Promise<void> {
    await jest.advanceTimersByTimeAsync(ms);
    await settle();
  }

  function listen(): string[] {
    const events: string[] = [];
    const stream = new LatestStream();
    stream.on('data', (chunk: Buffer) => { events.push(...[...chunk.toString().matchAll(/^(?:event: (\w+)|: )/gm)].map(([whole, name]) => name ?? whole)); });
    clock.add({ stream, token: { kind: 'session', digest: 'd' } });
    heard.push(events);
    return events;
  }

  test('is worked out once for a burst of news, and told to each', async () => {
    const all = [listen(), listen(), listen()];
    for (let piece = 0; piece < 20; piece += 1) clock.changed();
    await after(60);
    expect([asked, ...all]).toEqual([1, ['clock'], ['clock'], ['clock']]);
    const late = listen();
    await settle();
    expect([asked, late]).toEqual([1, ['clock']]);
  });

  test('news that come while it is worked out are told after it', async () => {
    const events = listen();
    let finish: (() => void) | null = null;
    answers = () => new Promise((resolve) => { finish = () => { resolve(answer(1)); }; });
    await after(60);
    clock.changed();
    clock.changed();
    await after(1000);
    expect([asked, events]).toEqual([1, []]);
    answers = null;
    (finish as (() => void) | null)?.();
    await after(60);
    expect([asked, events]).toEqual([2, ['clock', 'clock']]);
  });

  test('moves on by itself, says something all the same, and says when data get stale just after they do', async () => {
    const events = listen();
    answers = () => Promise.resolve(answer(1, { readingAgeS: 597 }));
    await after(60);
    answers = () => Promise.resolve(answer(2, { state: 'stale', readingAgeS: 600 }));
    await after(3100);
    expect(events).toEqual(['clock', 'stale', 'clock']);
    await after(12_000);
    expect(events).toEqual(['clock', 'stale', 'clock', ': ']);
    await after(4_000);
    expect(events).toEqual(['clock', 'stale', 'clock', ': ', 'stale', 'clock']);
  });

  test('says that it cannot be told, tries again each second, and ends where the string is gone', async () => {
    const events = listen();
    answers = () => Promise.reject(new Error('the database is away'));
    await after(60);
    await after(1100);
    expect(events).toEqual(['unavailable', 'unavailable']);
    answers = null;
    await after(1100);
    expect(events).toEqual(['unavailable', 'unavailable', 'clock']);
    answers = () => Promise.reject(new Refused(409, 'void', 'The string was withdrawn.'));
    clock.changed();
    await after(60);
    clock.changed();
    await after(60_000);
    expect(events).toEqual(['unavailable', 'unavailable', 'clock', 'ended']);
  });
});
