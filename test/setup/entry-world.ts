import { createHash } from 'node:crypto';
import { expect } from '@jest/globals';
import type { TestApi } from './api.js';
import { signedLimits, withdrawnLimits } from './signed-limits.js';
import { StringBench, type Fields } from './string-bench.js';

/** The records that entries name: right ones, void ones, and ones of another string. Ids, but for the digest. */
export interface EntryWorld {
  readonly personId: string;
  readonly mateId: string;
  readonly stringId: string;
  readonly otherStringId: string;
  readonly leavingCoilId: string;
  readonly enteringCoilId: string;
  readonly farCoilId: string;
  readonly unacceptedCoilId: string;
  readonly voidCoilId: string;
  readonly gaugeId: string;
  readonly standardId: string;
  readonly voidGaugeId: string;
  readonly qualificationId: string;
  readonly withdrawnQualificationId: string;
  readonly voidQualificationId: string;
  readonly matesQualificationId: string;
  readonly spliceProcedureId: string;
  readonly seamProcedureId: string;
  readonly repairProcedureId: string;
  readonly voidProcedureId: string;
  readonly spliceId: string;
  readonly voidSpliceId: string;
  readonly spliceElsewhereId: string;
  readonly cutOutId: string;
  readonly spareCutOutId: string;
  readonly voidCutOutId: string;
  readonly cutOutElsewhereId: string;
  readonly rejoinId: string;
  readonly rejoinElsewhereId: string;
  readonly inspectionId: string;
  readonly inspectionElsewhereId: string;
  readonly repairId: string;
  readonly voidRepairId: string;
  readonly repairElsewhereId: string;
  readonly stopId: string;
  readonly startId: string;
  readonly stopElsewhereId: string;
  readonly sampleId: string;
  readonly voidSampleId: string;
  readonly sampleElsewhereId: string;
  readonly hardnessTestId: string;
  readonly macroTestId: string;
  readonly testElsewhereId: string;
  readonly planId: string;
  readonly voidPlanId: string;
  readonly shiftId: string;
  readonly nextShiftId: string;
  readonly voidShiftId: string;
  readonly shiftElsewhereId: string;
  readonly handoverId: string;
  readonly spareHandoverId: string;
  readonly voidHandoverId: string;
  readonly handoverElsewhereId: string;
  readonly photoSha256: string;
  readonly channelId: string;
  readonly otherChannelId: string;
  /** Of the string, but of no run. */
  readonly idleChannelId: string;
  readonly voidChannelId: string;
  readonly channelElsewhereId: string;
  readonly runId: string;
  readonly voidRunId: string;
  readonly runElsewhereId: string;
  readonly ruleId: string;
  readonly voidRuleId: string;
  readonly ruleElsewhereId: string;
  readonly indicationId: string;
  readonly voidIndicationId: string;
  readonly indicationElsewhereId: string;
  readonly examinationId: string;
  readonly examinationElsewhereId: string;
  readonly concededId: string;
  readonly unconcededId: string;
  readonly concededElsewhereId: string;
  /** Set by the mate. */
  readonly holdId: string;
  readonly spareHoldId: string;
  readonly voidHoldId: string;
  readonly holdElsewhereId: string;
  readonly chartId: string;
  readonly voidChartId: string;
  readonly chartElsewhereId: string;
  /** Of the chart. */
  readonly limitsId: string;
  readonly withdrawnLimitsId: string;
  readonly limitsElsewhereId: string;
}

const PHOTO = Buffer.from('%PDF-1.7\n% photo of a place on the pipe\n');
const on = (fromMm: number, toMm: number): Fields => ({ from: { footageMm: fromMm }, to: { footageMm: toMm } });

/** Enters all that the world has, two strings of it. */
export async function entryWorld(api: TestApi): Promise<{ bench: StringBench; world: EntryWorld }> {
  const bench = await StringBench.on(api);
  const [personId, mateId] = [bench.who.personId, (await api.signIn('qc-inspector')).personId];
  await bench.who.send('POST', '/api/files', { body: PHOTO, headers: { 'content-type': 'application/pdf' } });
  const shared = { personId, mateId, photoSha256: createHash('sha256').update(PHOTO).digest('hex'), ...(await sharedRecords(bench, personId, mateId)) };
  const here = await onString(bench, shared, '1');
  const elsewhere = await onString(bench, shared, '2');
  const world: EntryWorld = {
    ...shared, ...here, unacceptedCoilId: await bench.unpermittedCoil(),
    otherStringId: elsewhere.stringId, spliceElsewhereId: elsewhere.spliceId, cutOutElsewhereId: elsewhere.spareCutOutId, rejoinElsewhereId: elsewhere.rejoinId,
    inspectionElsewhereId: elsewhere.inspectionId, repairElsewhereId: elsewhere.repairId, stopElsewhereId: elsewhere.stopId, sampleElsewhereId: elsewhere.sampleId,
    testElsewhereId: elsewhere.hardnessTestId, shiftElsewhereId: elsewhere.shiftId, handoverElsewhereId: elsewhere.spareHandoverId, channelElsewhereId: elsewhere.channelId, runElsewhereId: elsewhere.runId,
    ruleElsewhereId: elsewhere.ruleId, indicationElsewhereId: elsewhere.indicationId, examinationElsewhereId: elsewhere.examinationId,
    concededElsewhereId: elsewhere.concededId, holdElsewhereId: elsewhere.spareHoldId,
    chartElsewhereId: elsewhere.chartId, limitsElsewhereId: elsewhere.limitsId,
  };
  return { bench, world };
}

async function sharedRecords(bench: StringBench, personId: string, mateId: string) {
  const instrument = (number: string, kind: string): Promise<string> => bench.made('instruments', { number, kind, name: 'Wall gauge', measures: ['thickness'], unit: 'mm' });
  const procedure = (number: string, purpose: string, range: Fields): Promise<string> => bench.made('weld-procedures', {
    number, revision: 1, title: purpose, purpose, process: purpose === 'seam' ? 'HFW' : '135', effectiveFrom: '2025-06-01', ranges: [range], lists: [],
  });
  const current = { variable: 'current', min: '180', max: '220', unit: 'A' };
  const qualification = (number: string, of: string): Promise<string> => bench.made('qualifications', {
    personId: of, number, standard: 'ISO 14732', subject: 'welding', methods: ['135'], scope: [], startsOn: '2025-06-02', authorisationNeeded: false, examiner: 'Chamber',
  });
  const withdrawnQualificationId = await qualification('W-2', personId);
  await bench.made('qualification-proofs', {
    personId, qualificationId: withdrawnQualificationId, proof: 'withdrawal', onDay: '2026-01-10', givenBy: 'Employer', reasonGiven: 'Left the trade',
  });
  const plan = (number: string): Promise<string> => bench.made('sampling-plans', {
    number, revision: 1, title: 'Main string', effectiveFrom: '2025-06-01', tests: [{ test: 'macro', rules: [], retestAllowed: false, source: 'STS-12 rev 3' }],
  });
  return {
    gaugeId: await instrument('WG-1', 'gauge'), standardId: await instrument('RS-1', 'reference-standard'),
    voidGaugeId: await voided(bench, 'instruments', await instrument('WG-2', 'gauge')),
    qualificationId: await qualification('W-1', personId), withdrawnQualificationId, matesQualificationId: await qualification('W-1', mateId),
    voidQualificationId: await voided(bench, 'qualifications', await qualification('W-3', personId)),
    spliceProcedureId: await procedure('WP-1', 'splice', current),
    seamProcedureId: await procedure('WP-2', 'seam', { variable: 'power', min: '160', max: '200', unit: 'kW' }),
    repairProcedureId: await procedure('WP-3', 'repair', current),
    voidProcedureId: await voided(bench, 'weld-procedures', await procedure('WP-4', 'splice', current)),
    planId: await plan('SP-A'), voidPlanId: await voided(bench, 'sampling-plans', await plan('SP-B')),
  };
}

type Shared = Pick<EntryWorld, 'personId' | 'mateId' | 'seamProcedureId'>;

async function onString(bench: StringBench, shared: Shared, tag: string) {
  const stringId = await bench.string();
  const made = (path: string, content: Fields): Promise<string> => bench.made(path, { stringId, ...content });
  const [leavingCoilId, enteringCoilId, farCoilId] = [await bench.coil(), await bench.coil(), await bench.coil()];
  for (const [index, coilId] of [leavingCoilId, enteringCoilId, farCoilId].entries()) {
    await made('coil-segments', { coilId, ...on(index * 100_000, (index + 1) * 100_000), stripFromMm: 0, stripToMm: 100_000, runs: 'head-first' });
  }
  const splice = (number: string): Promise<string> => made('splices', {
    number, leavingCoilId, enteringCoilId, angleDeg: '45', hand: 'left', confirmed: true, verdict: 'accepted', from: { footageMm: 100_000 },
  });
  const cutOut = (index: number): Promise<string> => made('cut-outs', { ...on(300_000 + index * 2_000, 300_000 + index * 2_000 + 500), cause: 'Seam defect', observedAt: `2026-03-02T1${index}:00:00Z` });
  const [cutOutId, spareCutOutId] = [await cutOut(0), await cutOut(1)];
  const rejoined = await cutOut(2);
  const repair = (): Promise<string> => made('repairs', { ...on(10_000, 11_000), method: 'straightening', found: 'Bent', readings: [], chosen: [], photoSha256s: [] });
  const seam = (event: string, footageMm: number): Promise<string> => made('seam-events', {
    from: { footageMm }, event, weldProcedureId: shared.seamProcedureId, readings: [{ variable: 'power', printed: '182', unit: 'kW' }], cause: event === 'stop' ? 'Strip caught' : null,
  });
  const sample = (number: string): Promise<string> => made('test-samples', { number, footageMm: 60_000, orientation: 'full-section' });
  const sampleId = await sample(`TS-A${tag}`);
  const test = (kind: string): Promise<string> => made('destructive-tests', {
    testSampleId: sampleId, kind, method: 'ISO 6507-1', laboratory: 'Site laboratory', stated: 'Crack', outcome: 'fail', observedAt: '2026-03-03T08:00:00Z',
  });
  return {
    stringId, leavingCoilId, enteringCoilId, farCoilId, voidCoilId: await voided(bench, 'coils', await bench.unpermittedCoil()),
    spliceId: await splice('S-A'), voidSpliceId: await voided(bench, 'splices', await splice('S-B')),
    cutOutId, spareCutOutId, voidCutOutId: await voided(bench, 'cut-outs', await cutOut(3)),
    rejoinId: await made('rejoins', { cutOutId: rejoined, procedure: 'PW-2 rev 1', verdict: 'accepted' }),
    inspectionId: await made('inspections', { from: { footageMm: 10_500 }, kind: 'visual', characteristic: 'seam', verdict: 'for-evaluation' }),
    repairId: await repair(), voidRepairId: await voided(bench, 'repairs', await repair()),
    stopId: await seam('stop', 50_000), startId: await seam('start', 0),
    sampleId, voidSampleId: await voided(bench, 'test-samples', await sample(`TS-B${tag}`)), hardnessTestId: await test('hardness'), macroTestId: await test('macro'),
    ...(await inspectionOn(bench, made)), ...(await heldOn(bench, made, shared)), ...(await chartsOn(bench, made, stringId)),
    ...(await shiftsOn(bench, made, shared, tag === '1' ? 2 : 9)),
  };
}

/** Channels, and a run of two of them. */
async function inspectionOn(bench: StringBench, made: (path: string, content: Fields) => Promise<string>) {
  const channel = (name: string): Promise<string> => made('channels', {
    name, measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', sampling: { per: 'length', everyMm: '1.0' }, required: true, repeats: 'best',
  });
  const [channelId, otherChannelId] = [await channel('ET-A'), await channel('ET-B')];
  const rule = (revision: string): Promise<string> => made('indication-rules', {
    name: 'Seam', revision, channels: [{ channelId, sense: 'above', threshold: '50', release: '30' }], minimumLengthMm: 0, combiningMm: 0, bridgedGapMm: 0, excludes: [], repeats: 'all',
  });
  await made('control-plans', { document: 'CP-1', revision: '1', fromMm: 3_900_000, items: [{ code: 'P-1', clause: '7.1', demands: 'point', at: 'pipe', point: 'hold' }, { code: 'N-1', clause: '5.2', demands: 'coil-accepted', at: 'pipe' }] });
  const indication = (): Promise<string> => made('indications', { ...on(10_000, 11_000), channelIds: [channelId], method: 'ET' });
  const run = (): Promise<string> => made('inspection-runs', { channelIds: [channelId, otherChannelId], settings: [] });
  return {
    channelId, otherChannelId, idleChannelId: await channel('ET-C'), voidChannelId: await voided(bench, 'channels', await channel('ET-D')),
    runId: await run(), voidRunId: await voided(bench, 'inspection-runs', await run()),
    ruleId: await rule('A'), voidRuleId: await voided(bench, 'indication-rules', await rule('B')),
    indicationId: await indication(), voidIndicationId: await voided(bench, 'indications', await indication()),
    examinationId: await made('examinations', { ...on(10_000, 11_000), method: 'UT', technique: 'UT-04', outcome: 'held', standsInFor: [], photoSha256s: [] }),
  };
}

/** Two nonconformances, one of them conceded, and holds that the mate set. */
async function heldOn(bench: StringBench, made: (path: string, content: Fields) => Promise<string>, { personId, mateId }: Shared) {
  const nonconformance = (disposition: Fields | null): Promise<string> => made('nonconformances', {
    title: 'Wall below minimum', severity: 'major', origin: 'line', extents: [on(10_000, 11_000)], extentBasis: 'measured', stage: 'open', disposition,
    requirement: { document: 'Plan', revision: '2', clause: '4.3', limit: 'at least 4.75 mm' }, found: { text: 'Thin', method: 'UT', instrument: 'UT-04', at: '2026-03-02T08:15:00Z', by: mateId },
  });
  const hold = (): Promise<string> => made('holds', { doneBy: mateId, cause: 'Wall below minimum', intervals: [on(10_000, 11_000)], coilIds: [], spliceIds: [] });
  return {
    concededId: await nonconformance({ kind: 'use-as-is-under-concession', text: 'Above 400 m', approvedBy: personId, approvedAt: '2026-03-02T11:30:00Z' }), unconcededId: await nonconformance(null),
    holdId: await hold(), spareHoldId: await hold(), voidHoldId: await voided(bench, 'holds', await hold()),
  };
}

/** A chart with limits that stand and others that were withdrawn. */
async function chartsOn(bench: StringBench, made: (path: string, content: Fields) => Promise<string>, stringId: string) {
  const chart = (code: string): Promise<string> => made('control-charts', {
    code, title: 'Bead height', characteristic: { of: 'inspected', name: 'bead height' }, unit: 'mm', subgroup: { size: 1, withinMm: 0, everyMm: 1_000 }, chart: 'ewma', rules: [], lambda: '0.2', width: '2.7',
    leaveOut: { aroundSplicesMm: 0, aroundStopsMm: 0 }, reaction: { repeat: 'Read again', causes: ['Scarfing tool worn'], adjust: 'Set the tool', decidedBy: 'Shift lead' },
  });
  const chartId = await chart('BH-1');
  return {
    chartId, voidChartId: await voided(bench, 'control-charts', await chart('BH-2')), limitsId: await signedLimits(bench.api, bench.who, stringId, chartId),
    withdrawnLimitsId: await withdrawnLimits(bench.api, bench.who, await signedLimits(bench.api, bench.who, stringId, chartId)),
  };
}

/** Shifts on one day and the next of March 2026, and what was handed over. */
async function shiftsOn(bench: StringBench, made: (path: string, content: Fields) => Promise<string>, { personId, mateId }: Shared, day: number) {
  const clock = (days: number, hour: string): string => `2026-03-${String(day + days).padStart(2, '0')}T${hour}:00Z`;
  const shift = (days: number, person: string): Promise<string> => made('shifts', {
    name: `day ${day + days}`, observedAt: clock(days, '06:00'), until: clock(days, '18:00'), crew: [{ personId: person, duty: 'Shift lead' }],
  });
  const [shiftId, nextShiftId] = [await shift(0, personId), await shift(1, mateId)];
  const handover = (): Promise<string> => made('handovers', {
    shiftId, nextShiftId, observedAt: clock(0, '17:50'), items: [{ words: 'Film unclear' }, { words: 'Gauge is away' }],
  });
  return {
    shiftId, nextShiftId, voidShiftId: await voided(bench, 'shifts', await shift(2, personId)),
    handoverId: await handover(), spareHandoverId: await handover(), voidHandoverId: await voided(bench, 'handovers', await handover()),
  };
}

async function voided(bench: StringBench, path: string, id: string): Promise<string> {
  expect(await bench.withdraw(`${path}/${id}`, 1)).toMatchObject({ status: 200 });
  return id;
}
