import { once } from 'node:events';
import { Writable } from 'node:stream';
import { describe, expect, test } from '@jest/globals';
import { LatestStream } from './latest-stream.js';

/** Takes a chunk only when it is let. */
class SlowReader extends Writable {
  readonly taken: string[] = [];
  private release: (() => void) | null = null;

  constructor() {
    super({ highWaterMark: 1 });
  }

  override _write(chunk: Buffer, _encoding: string, done: () => void): void {
    this.taken.push(chunk.toString());
    this.release = done;
  }

  async take(): Promise<void> {
    const { release } = this;
    this.release = null;
    release?.();
    await new Promise((resolve) => { setImmediate(resolve); });
  }
}

const settle = (): Promise<void> => new Promise((resolve) => { setImmediate(resolve); });

describe('a stream of which only the latest counts', () => {
  test('gives a quick reader all of it', async () => {
    const stream = new LatestStream();
    const heard: string[] = [];
    stream.on('data', (chunk: Buffer) => { heard.push(chunk.toString()); });
    for (const text of ['a', 'b', 'c']) {
      stream.offer(text);
      await settle();
    }
    stream.finish('end');
    await once(stream, 'close');
    expect(heard).toEqual(['a', 'b', 'c', 'end']);
  });

  test('keeps one text for a slow reader, the latest, however many came; then the last', async () => {
    const [stream, reader] = [new LatestStream(), new SlowReader()];
    stream.pipe(reader);
    for (let number = 0; number < 10_000; number += 1) {
      stream.offer(`state ${number}`);
      if (number < 5) await settle();
    }
    expect(stream.waitedMs).toBeGreaterThan(0);
    expect(stream.readableLength).toBeLessThan(100);
    stream.keepAlive('alive');
    for (let turn = 0; turn < 8; turn += 1) await reader.take();
    expect(stream.waitedMs).toBe(0);
    // What was under way when the reader stood still, and then the latest alone.
    expect(reader.taken.length).toBeLessThan(8);
    expect(reader.taken.at(-1)).toBe('state 9999');
    stream.finish('end');
    stream.finish('twice');
    stream.offer('after');
    for (let turn = 0; turn < 4; turn += 1) await reader.take();
    expect(reader.taken.at(-1)).toBe('end');
    expect(reader.writableFinished).toBe(true);
  });

  test('ends after what still waited', async () => {
    const [stream, reader] = [new LatestStream(), new SlowReader()];
    stream.pipe(reader);
    for (let number = 0; number < 6; number += 1) {
      stream.offer(`state ${number};`);
      await settle();
    }
    stream.finish('end');
    for (let turn = 0; turn < 10; turn += 1) await reader.take();
    expect(reader.taken.join('')).toMatch(/state 5;end$/);
  });
});
