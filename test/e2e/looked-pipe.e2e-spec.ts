import { describe, expect, test } from '@jest/globals';
import { DetectionsService } from '../../apps/api/src/detections/detections.service.js';
import { LookedPipe } from '../../apps/api/src/detections/looked-pipe.service.js';
import { evidenceOf, item, line, plan } from './evidence.factory.js';
import { DROPOUT, inspectedLine } from './indications.factory.js';
import type { Fields } from './line.factory.js';

const { api, engineer, stringId, made, amend, withdraw, get, reading, channels, runId, sent, sentBack, rule, detection } = inspectedLine();

/** The pipe that a detection looked at by the run, channel by channel. */
async function lookedAt(detectionId: string): Promise<string[]> {
  const { app } = api();
  const seen = await app.get(DetectionsService, { strict: false }).seenOn(stringId(), null);
  const { runs } = await app.get(LookedPipe, { strict: false }).of(seen.find(({ id }) => id === detectionId)!);
  return channels().map((id) => runs.filter((run) => run.channelId === id && run.runId === runId())
    .flatMap(({ pipe }) => pipe.intervals.map(({ fromMm, toMm }) => `${fromMm}-${toMm}`)).join());
}

const mark = (fromMm: number, toMm: number, effect: string, cause: string): Promise<string> => made('signal-marks', {
  stringId: stringId(), observedAt: '2026-03-02T06:20:00Z', from: { footageMm: fromMm }, to: { footageMm: toMm }, runId: runId(), channelIds: [channels()[0]], effect, cause,
});

describe('the pipe that a detection looked at', () => {
  test('is what was read of it, between the ends that were asked for', async () => {
    await sent([{ fromMm: 7010, toMm: 7020, value: DROPOUT }], []);
    expect(await lookedAt(await made('detections', detection(await made('indication-rules', rule()), { fromMm: 1000, toMm: 9000 })))).toEqual(['1000-7010,7020-9000', '1000-9000']);
  });

  test('is not what marks left out when it ran, whatever became of them since', async () => {
    await sent([], []);
    await mark(2000, 2010, 'not-valid', 'coupling-lost');
    const excluded = await mark(3000, 3010, 'excluded', 'reference-standard');
    await mark(4000, 4010, 'excluded', 'review');
    const id = await made('detections', detection(await made('indication-rules', rule({ excludes: ['reference-standard'] }))));
    const seen = ['0-2000,2010-3000,3010-10000', '0-10000'];
    expect(await withdraw('signal-marks', excluded, 1)).toMatchObject({ status: 200 });
    await mark(5000, 5010, 'not-valid', 'coupling-lost');
    expect(await lookedAt(id)).toEqual(seen);
  });

  test('does not grow by what was sent after it ran', async () => {
    await sent([{ fromMm: 7010, toMm: 7020, value: DROPOUT }], []);
    const ruleId = await made('indication-rules', rule());
    const before = await made('detections', detection(ruleId));
    await sentBack([], [], '06:30');
    expect(await lookedAt(before)).toEqual(['0-7010,7020-10000', '0-10000']);
    expect(await lookedAt(await made('detections', detection(ruleId, { observedAt: '2026-03-02T06:31:00Z' })))).toEqual(['0-10000', '0-10000']);
  });

  test('is told as evidence only while its samples lie where they lay when it ran', async () => {
    await sent([{ fromMm: 7010, toMm: 7020, value: DROPOUT }], []);
    for (const [clock, read] of [['06:10', 0], ['06:11', 10_000]] as const) {
      expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(read)) })).toMatchObject({ status: 201 });
    }
    const ruleId = await made('indication-rules', rule());
    await made('detections', detection(ruleId));
    await made('control-plans', plan(stringId(), [item('IND', 'indications-settled')]));
    const settled = async (): Promise<string> => line(await evidenceOf(engineer(), stringId()), 'IND');
    expect(await settled()).toBe('confirmed 0-7010, missing 7010-7020, confirmed 7020-10000');
    const { items: [periodRow] } = (await engineer().send<{ items: Fields[] }>('GET', `/api/counter-periods?stringId=${stringId()}`)).body;
    expect(await amend('counter-periods', String(periodRow?.['id']), 1, { startFootageMm: 500 })).toMatchObject({ status: 200 });
    expect(await settled()).toBe('missing 0-10000, missing 10000-10500');
    await made('detections', detection(ruleId, { observedAt: '2026-03-02T06:31:00Z' }));
    expect(await settled()).toBe('missing 0-500, confirmed 500-7510, missing 7510-7520, confirmed 7520-10500');
  });

  test('is asked of the detections that stood at an instant: not of one entered since, nor of one withdrawn by then', async () => {
    await sent([], []);
    const id = await made('detections', detection(await made('indication-rules', rule())));
    const { recordedAt } = await get('detections', id);
    const idsAt = async (asKnownAt: string | null): Promise<string[]> => (await api().app.get(DetectionsService, { strict: false }).seenOn(stringId(), asKnownAt)).map((one) => one.id);
    expect(await withdraw('detections', id, 1)).toMatchObject({ status: 200 });
    expect([await idsAt(null), await idsAt(String(recordedAt)), await idsAt('2026-03-02T06:12:00.000000Z')]).toEqual([[], [id], []]);
  });
});
