import { afterEach, describe, expect, test } from '@jest/globals';
import { Worker } from 'node:worker_threads';
import { coilSheet, coilTag, collectBytes, controlChartReport, nonconformanceReport, ReportTooLongError, stripChartReport } from '#libs/reports';
import { oneCoilSheet, oneCoilTag } from '../../../../libs/reports/coil-papers.factory.js';
import { oneControlChartReport } from '../../../../libs/reports/control-chart/control-chart.factory.js';
import { oneReport } from '../../../../libs/reports/nonconformance-report.factory.js';
import { oneStripChartReport } from '../../../../libs/reports/strip-chart/strip-chart.factory.js';
import type { DrawOrder } from './draw-order.js';
import { ReportPress } from './report-press.js';

const order: DrawOrder = { report: 'nonconformance', data: oneReport(), paper: 'A4' };
const contradictory: DrawOrder = { report: 'nonconformance', data: oneReport({ generatedAt: 'yesterday' }), paper: 'A4' };

/** A thread that does with each order what `program`, JavaScript, does. */
const threadThat = (program: string) => (): Worker =>
  new Worker(`require('node:worker_threads').parentPort.on('message', () => { ${program} });`, {
    eval: true,
    resourceLimits: { maxOldGenerationSizeMb: 16 },
  });

const ANSWER = `require('node:worker_threads').parentPort.postMessage({ done: new Uint8Array(3) })`;

let press: ReportPress;
const pressWith = (...made: Parameters<typeof ReportPress.with>): ReportPress => (press = ReportPress.with(...made));
afterEach(() => press.onModuleDestroy());

describe('the press', () => {
  test('draws in a thread, the same bytes for the same order, and goes on after data that cannot be drawn', async () => {
    pressWith({ threads: 1 });
    const first = await press.draw(order);
    expect(Buffer.from(first.subarray(0, 5)).toString()).toBe('%PDF-');
    await expect(press.draw(contradictory)).rejects.toThrow('generatedAt is not a UTC instant');
    expect(Buffer.compare(await press.draw(order), first)).toBe(0);
  }, 30_000);

  test('draws each kind of report as it would be drawn here', async () => {
    const orders: readonly [DrawOrder, PDFKit.PDFDocument][] = [
      [order, nonconformanceReport(oneReport(), { paper: 'A4' })],
      [{ report: 'coil-sheet', data: oneCoilSheet(), paper: 'Letter' }, coilSheet(oneCoilSheet(), { paper: 'Letter' })],
      [{ report: 'coil-tag', data: oneCoilTag() }, coilTag(oneCoilTag())],
      [{ report: 'control-chart', data: oneControlChartReport(), paper: 'A4' }, controlChartReport(oneControlChartReport(), { paper: 'A4' })],
      [{ report: 'strip-chart', data: oneStripChartReport(), paper: 'A4' }, stripChartReport(oneStripChartReport(), { paper: 'A4' })],
    ];
    pressWith({ threads: 1 });
    for (const [kind, document] of orders) expect(Buffer.compare(await press.draw(kind), await collectBytes(document))).toBe(0);
  }, 30_000);

  test('refuses a report that is too long', async () => {
    const { name, message } = new ReportTooLongError();
    const error = JSON.stringify({ name, message, stack: '' });
    pressWith({ threads: 1 }, threadThat(`require('node:worker_threads').parentPort.postMessage({ error: ${error} })`));
    await expect(press.draw(order)).rejects.toMatchObject({ status: 422, code: 'report-too-long' });
  });

  test('keeps to its threads and refuses when too many wait', async () => {
    let started = 0;
    pressWith({ threads: 2, mostWaiting: 1 }, () => {
      started += 1;
      return threadThat(`setTimeout(() => ${ANSWER}, 50)`)();
    });
    const taken = [press.draw(order), press.draw(order), press.draw(order)];
    await expect(press.draw(order)).rejects.toMatchObject({ status: 503, code: 'busy' });
    expect((await Promise.all(taken)).map(({ length }) => length)).toEqual([3, 3, 3]);
    expect(started).toBe(2);
  });

  test.each([
    ['takes too long', 'for (;;);', 'it took more than 1 s'],
    ['takes too much memory', 'const all = []; for (;;) all.push(new Array(1000).fill(all.length));', 'it needs too much memory'],
    ['ends', 'process.exit(3);', 'its thread ended'],
  ])('refuses a drawing that %s, and draws the next one in a new thread', async (_what, program, why) => {
    const threads = [threadThat(program), threadThat(ANSWER)];
    pressWith({ threads: 1, orderMs: program.includes('all') ? 20_000 : 1000 }, () => threads.shift()!());
    await expect(press.draw(order)).rejects.toMatchObject({ status: 503, code: 'report-not-drawn', message: `The report could not be drawn: ${why}.` });
    expect(await press.draw(order)).toHaveLength(3);
  }, 30_000);

  test('refuses what is under way and what waits when it is ended', async () => {
    pressWith({ threads: 1 }, threadThat(''));
    const outcomes = [press.draw(order), press.draw(order)].map((drawing) => drawing.catch((error: unknown) => error));
    await press.onModuleDestroy();
    expect(await Promise.all(outcomes)).toMatchObject([{ code: 'report-not-drawn' }, { code: 'report-not-drawn' }]);
    await expect(press.draw(order)).rejects.toMatchObject({ status: 503, code: 'busy' });
  });
});
