import { beforeEach, describe, expect, test } from '@jest/globals';
import { chartOf, rowOf, shownLeftOut, shownPoints } from './characteristics.factory.js';
import { DROPOUT, inspectedLine } from './indications.factory.js';

const { api, engineer, stringId, made, amend, reading, channels, runId, sent, rule, detection, seenAt } = inspectedLine();

const FLAW = { fromMm: 2_000, toMm: 2_040, value: 78.4 };
const QUESTION = { interval: { fromMm: 0, toMm: 16_000 } };

/** Indications by lengths of 4 m, of some channels or, of none named, of the required ones. */
const counts = (channelIds: readonly string[] = []): ReturnType<typeof chartOf> => chartOf(stringId(), { of: 'indications', windowMm: 4_000, channelIds: [...channelIds] }, { unit: '1/m' });
const gaps = (): ReturnType<typeof chartOf> => chartOf(stringId(), { of: 'between-indications' }, { unit: 'm' });

// 16 m are made; both channels read the first 10 m of them.
beforeEach(async () => {
  for (const [clock, mm] of [['06:00', 0], ['06:30', 16_000]] as const) expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(mm)) })).toMatchObject({ status: 201 });
});

describe('indications are counted where somebody looked', () => {
  test('where each channel read validly, as long as no detection looks at its samples', async () => {
    await sent([{ fromMm: 5_000, toMm: 5_500, value: DROPOUT }], []);
    await made('indications', seenAt(2_000, { channelIds: [channels()[0]] }));
    await made('indications', seenAt(12_000, { channelIds: [channels()[0]] }));
    await made('signal-marks', { stringId: stringId(), observedAt: '2026-03-02T06:11:00Z', from: { footageMm: 7_000 }, to: { footageMm: 7_200 }, runId: runId(), channelIds: [channels()[1]], effect: 'not-valid', cause: 'coupling-lost' });
    const first = await rowOf(api(), counts([channels()[0]]), QUESTION);
    expect(shownPoints(first)).toEqual(['0-4000: 1 of 4', '4000-8000: 0 of 3.5', '8000-12000: 0 of 2']);
    expect(shownLeftOut(first)).toEqual(['12000-16000 not read by ET-1', '12000-12100 not read by ET-1']);
    expect(first.leftOut[1]?.records).toMatchObject([{ kind: 'indication' }]);
    expect(shownPoints(await rowOf(api(), counts([channels()[1]]), QUESTION))).toEqual(['0-4000: 0 of 4', '4000-8000: 0 of 3.8', '8000-12000: 0 of 2']);
    expect(shownPoints(await rowOf(api(), counts(channels()), QUESTION))).toEqual(['0-4000: 1 of 4', '4000-8000: 0 of 3.3', '8000-12000: 0 of 2']);
  });

  test('where a detection looked, once one does: what was read since shows nothing yet', async () => {
    await sent([FLAW], []);
    const ruleId = await made('indication-rules', rule());
    await made('detections', detection(ruleId, { fromMm: 0, toMm: 6_000 }));
    const row = await rowOf(api(), counts([channels()[0]]), QUESTION);
    expect(shownPoints(row)).toEqual(['0-4000: 1 of 4', '4000-8000: 0 of 2']);
    expect(shownLeftOut(row)).toEqual(['8000-12000 no detection looked at it with ET-1', '12000-16000 no detection looked at it with ET-1']);
    await made('detections', detection(ruleId, { observedAt: '2026-03-02T06:20:00Z' }));
    expect(shownPoints(await rowOf(api(), counts([channels()[0]]), QUESTION))).toEqual(['0-4000: 1 of 4', '4000-8000: 0 of 4', '8000-12000: 0 of 2']);
  });

  test('with none named, where each required channel looked; where none is required nothing says who looks, and all pipe counts', async () => {
    await sent([], []);
    await made('indications', seenAt(1_000));
    expect(shownPoints(await rowOf(api(), counts(), QUESTION))).toEqual(['0-4000: 1 of 4', '4000-8000: 0 of 4', '8000-12000: 0 of 2']);
    for (const id of channels()) expect(await amend('channels', id, 1, { required: false })).toMatchObject({ status: 200 });
    expect(shownPoints(await rowOf(api(), counts(), QUESTION))).toEqual(['0-4000: 1 of 4', '4000-8000: 0 of 4', '8000-12000: 0 of 4', '12000-16000: 0 of 4']);
  });
});

test('a gap between indications is as long as the pipe of it that was looked at', async () => {
  await sent([{ fromMm: 3_000, toMm: 3_700, value: DROPOUT }], []);
  for (const mm of [1_000, 6_000, 9_000]) await made('indications', seenAt(mm));
  expect(shownPoints(await rowOf(api(), gaps(), QUESTION))).toEqual(['1000-6000: 4.3', '6000-9000: 3']);
});
