import { createHash } from 'node:crypto';
import { v7 as uuidv7 } from 'uuid';
import { arrowStream, float32s, int64s } from '../fixtures/sample-files.js';
import type { Client } from './bench-string.js';

/** Ten kilometres of pipe in thirty coils, ten metres a minute. */
const MADE_MM = 10_000_000;
const COILS = 30;
const COIL_MM = Math.floor(MADE_MM / COILS);
const HANG_OFF_PATH_MM = 27_000;
const START_MS = Date.parse('2026-03-01T06:00:00Z');
const MS_A_MM = 6;
const READINGS = 500;
const DIAMETERS = 3_000;
const SEEN = 1_000;
const EXAMINED = 150;
const INDICATIONS = 100;
const SAMPLED_MM = 300_000;
const AT_ONCE = 8;

type Fields = Readonly<Record<string, unknown>>;

/** When a metre was welded, and a little later. */
const timeOf = (footageMm: number, laterMs = 0): string => new Date(START_MS + footageMm * MS_A_MM + laterMs).toISOString();
const BEFORE = '2026-01-05T08:00:00Z';
const MINUTE_MS = 60_000;

async function sent({ url, token }: Client, path: string, body: Fields): Promise<Fields> {
  const reply = await fetch(`${url}/api/${path}`, { method: 'POST', headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' }, body: JSON.stringify(body) });
  if (!reply.ok) throw new Error(`${path}: ${reply.status} ${await reply.text()}`);
  return (await reply.json()) as Fields;
}

async function entered(client: Client, path: string, body: Fields): Promise<string> {
  const id = uuidv7();
  await sent(client, path, { id, ...body });
  return id;
}

/** `count` pieces of work, a few at once. */
async function each(count: number, work: (nth: number) => Promise<unknown>): Promise<void> {
  let next = 0;
  const some = async (): Promise<void> => {
    for (let nth = next++; nth < count; nth = next++) await work(nth);
  };
  await Promise.all(Array.from({ length: AT_ONCE }, some));
}

/** A number that nothing else has. */
const apart = (kind: string): string => `${kind}-${uuidv7().slice(-12)}`;

const times = (count: number): number[] => Array.from({ length: count }, (_, nth) => nth);

export interface EvidenceString {
  readonly stringId: string;
  readonly gaugeId: string;
}

/** What the records of the string name. */
interface Named extends EvidenceString {
  readonly standardId: string;
  /** Who enters. */
  readonly doneBy: string;
  readonly channelId: string;
  readonly spliceProcedureId: string;
  readonly seamProcedureId: string;
}

/** Enters a string of 10 km with some 5,000 records about its pipe, of every kind that a control plan can ask for, and the plan. */
export async function enterEvidenceString(client: Client): Promise<EvidenceString> {
  const named = await enterLine(client);
  const coilIds = await enterCoils(client, named.stringId);
  const spliceIds = await enterSplices(client, named, coilIds);
  await enterPlan(client, named);
  await enterChannel(client, named);
  await enterTests(client, named, coilIds);
  await enterHolds(client, named.stringId, coilIds, spliceIds);
  await enterFound(client, named);
  await enterInspections(client, named);
  return named;
}

async function enterLine(client: Client): Promise<Named> {
  const at = { observedAt: BEFORE };
  const wellId = await entered(client, 'wells', { ...at, name: `Evidence bench ${uuidv7()}`, datum: 'Guide frame' });
  const stringId = await entered(client, 'casing-strings', {
    ...at, wellId, name: 'Ten kilometres', footageLimitMm: 20_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004',
    diameterRatio: '1.14', diameterRatioU: '0.01',
  });
  await entered(client, 'line-setups', {
    ...at, stringId, viewing: 'down-the-hole',
    stations: [{ name: 'eddy head', pathMinMm: 8_000, pathMaxMm: 8_000, uMm: '3' }, { name: 'hang-off', role: 'hang-off', pathMinMm: HANG_OFF_PATH_MM, pathMaxMm: HANG_OFF_PATH_MM, uMm: '5' }],
  });
  await entered(client, 'counter-periods', { observedAt: timeOf(0), stringId, startReading: '0', startFootageMm: 0, scaleMmPerCount: '1', scaleRelativeU: '0.0005' });
  const readings = times(READINGS + 1).map((nth) => Math.round((MADE_MM * nth) / READINGS)).map((mm) => ({ id: uuidv7(), stringId, observedAt: timeOf(mm), reading: String(mm) }));
  await sent(client, 'counter-readings/batch', { readings });
  await entered(client, 'hang-offs', { observedAt: timeOf(HANG_OFF_PATH_MM + 3_000), stringId, from: { footageMm: 3_000 }, mdMm: 2_500, mdUMm: '5' });
  return { stringId, ...await enterMeans(client, stringId) };
}

/** Instruments, procedures, a channel and the qualifications of the one who enters. */
async function enterMeans(client: Client, stringId: string): Promise<Omit<Named, 'stringId'>> {
  const at = { observedAt: BEFORE };
  const { doneBy, id } = await sent(client, 'instruments', {
    ...at, id: uuidv7(), number: apart('MI'), kind: 'gauge', name: 'Micrometer', measures: ['outside diameter'], unit: 'mm', rangeMin: '0', rangeMax: '200', resolution: '0.01',
  });
  const gaugeId = String(id);
  await entered(client, 'calibrations', {
    ...at, instrumentId: gaugeId, certificateNumber: 'CAL-EV', laboratory: 'Site measuring room', dueOn: '2027-01-31', decisionRule: 'simple-acceptance', guardFactor: '1',
    asFound: [{ point: '127 mm', deviation: '0.003', min: '-0.05', max: '0.05', unit: 'mm', expandedU: '0.01' }],
  });
  const standardId = await entered(client, 'instruments', { ...at, number: apart('RS'), kind: 'reference-standard', name: 'Notched tube', measures: ['notch'], unit: 'mm' });
  const qualified = (number: string, subject: string, methods: readonly string[]): Promise<string> => entered(client, 'qualifications', {
    ...at, personId: doneBy, number, standard: 'Works rule', subject, methods, scope: [], startsOn: '2025-06-02', expiresOn: '2028-06-01', lateConfirmation: 'revives',
    authorisationNeeded: false, examiner: 'Examining body', ...(subject === 'welding' ? { confirmEveryMonths: 12 } : { level: 2 }),
  });
  await qualified(apart('Q'), 'welding', ['135', '291']);
  await qualified(apart('Q'), 'non-destructive-testing', ['VT', 'ET', 'UT', 'MT']);
  const procedure = (number: string, purpose: string, process: string): Promise<string> => entered(client, 'weld-procedures', {
    ...at, number, revision: 1, title: `Weld of 5 mm strip, ${purpose}`, purpose, process, effectiveFrom: '2025-06-01',
    lists: [], ranges: purpose === 'seam' ? [{ variable: 'power', min: '150', max: '250', unit: 'kW' }] : [{ variable: 'current', min: '150', max: '250', unit: 'A' }],
  });
  const channelId = await entered(client, 'channels', {
    ...at, stringId, name: 'ET-seam', measures: 'eddy-current-amplitude', unit: '%', method: 'ET', technique: null, station: 'eddy head', zone: 'seam', probe: null, clockFromDeg: null,
    clockToDeg: null, sampling: { per: 'length', everyMm: '1' }, threshold: { sense: 'above', level: '60' }, required: true, missingValues: ['-999'], saturatesAt: { high: null, low: null },
    plausible: { from: null, to: null }, stuckAfter: null, noiseFloorLeast: null, speedWindow: null, spliceMarginMm: null, repeats: 'best', note: null,
  });
  return { gaugeId, standardId, doneBy: String(doneBy), channelId, spliceProcedureId: await procedure(apart('WP'), 'splice', '135'), seamProcedureId: await procedure(apart('WP'), 'seam', '291') };
}

/** Coils that were permitted, and the pipe of each. */
async function enterCoils(client: Client, stringId: string): Promise<string[]> {
  const at = { observedAt: BEFORE };
  const coilIds: string[] = [];
  for (const nth of times(COILS)) {
    const heatId = await entered(client, 'heats', { ...at, number: apart('EH'), grade: 'S420MC' });
    const coilId = await entered(client, 'coils', { ...at, number: apart('EC'), heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '5300', lengthMm: COIL_MM + 1000 });
    await entered(client, 'deviation-permits', { ...at, coilId, departure: 'The certificate is asked for at the steelmaker.', limit: 'This string', validUntil: '2099-12-31T00:00:00Z' });
    await entered(client, 'coil-segments', {
      ...at, stringId, coilId, from: { footageMm: nth * COIL_MM }, to: { footageMm: (nth + 1) * COIL_MM }, stripFromMm: 0, stripToMm: COIL_MM, runs: 'head-first',
    });
    coilIds.push(coilId);
  }
  return coilIds;
}

/** Splices with welds and steps, and the seam's starts, stops and changes. */
async function enterSplices(client: Client, { stringId, spliceProcedureId, seamProcedureId }: Named, coilIds: readonly string[]): Promise<string[]> {
  const spliceIds = times(COILS - 1).map(() => uuidv7());
  const readings = [{ measured: 'high-low', printed: '0.2', unit: 'mm', max: '0.5' }];
  await each(spliceIds.length, async (nth) => {
    const footageMm = (nth + 1) * COIL_MM;
    const at = (minutes: number): { observedAt: string } => ({ observedAt: timeOf(footageMm, (minutes - 30) * MINUTE_MS) });
    await sent(client, 'splices/whole', {
      splice: {
        id: spliceIds[nth], ...at(0), stringId, number: `ES-${nth + 1}`, leavingCoilId: coilIds[nth], enteringCoilId: coilIds[nth + 1], from: { footageMm: footageMm - 200 },
        to: { footageMm: footageMm + 200 }, angleDeg: '45', hand: 'left', confirmed: true, verdict: 'accepted',
      },
      welds: [{ id: uuidv7(), ...at(5), weldProcedureId: spliceProcedureId, readings: [{ variable: 'current', printed: '180', unit: 'A' }], chosen: [{ choice: 'process', value: '135' }] }],
      steps: ['preparation', 'flat-strip-release', 'after-forming'].map((stage, index) => ({
        id: uuidv7(), ...at(10 + index * 30), stage, outcome: 'accepted', readings, coupons: [], photoSha256s: [],
        examinations: stage === 'preparation' ? [] : [{ method: 'VT', technique: 'VT-01', outcome: 'accepted' }],
      })),
    });
  });
  const seam = (footageMm: number, event: string, laterMs = 0): Promise<string> => entered(client, 'seam-events', {
    observedAt: timeOf(footageMm, laterMs), stringId, from: { footageMm }, event, weldProcedureId: seamProcedureId, readings: [{ variable: 'power', printed: '182', unit: 'kW' }],
    cause: event === 'start' ? null : 'Rolls looked at',
  });
  await seam(0, 'start');
  await each(COILS - 1, async (nth) => { await seam((nth + 1) * COIL_MM - 100_000, 'set-up-change'); });
  await each(10, async (nth) => { await seam(nth * 1_000_000 + 510_000, 'stop'); await seam(nth * 1_000_000 + 510_000, 'restart', 1); });
  return spliceIds;
}

/** One item of each demand, several of some, as a plan has them. */
async function enterPlan(client: Client, { stringId, channelId }: Named): Promise<void> {
  const item = (code: string, demands: string, changes: Fields = {}): Fields => ({
    code, clause: '5.1', demands, at: 'pipe', marginMm: null, exceptAt: [], channelId: null, characteristic: null, reachMm: null, test: null, point: null, ...changes,
  });
  const items = [
    item('C-1', 'coil-accepted'), item('H-1', 'heat-confirmed'), item('W-1', 'seam-parameters'), item('ET-1', 'channel-inspected', { channelId, exceptAt: [{ at: 'splices', marginMm: 300 }] }),
    item('ET-2', 'channel-inspected', { channelId, at: 'splices', marginMm: 300 }), item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 5_000 }),
    item('VT-1', 'dimension', { characteristic: 'surface', reachMm: 10_000 }), item('S-1', 'splice-accepted', { at: 'splices', marginMm: 0 }),
    item('J-1', 'rejoin-accepted', { at: 're-joins', marginMm: 0 }), item('Q-1', 'people-valid'), item('Q-2', 'instruments-valid'), item('T-1', 'destructive-tests'),
    item('T-2', 'destructive-tests', { test: 'hardness' }), item('I-1', 'indications-settled'), item('R-1', 'repairs-reinspected'), item('N-1', 'nonconformances-closed'),
    item('P-1', 'point', { at: 'lead-end', marginMm: 20_000, point: 'witness' }), item('X-1', 'released'),
  ];
  await entered(client, 'control-plans', { observedAt: BEFORE, stringId, document: 'Control plan CP-10', revision: '1', fromMm: 0, items, note: null });
  await sent(client, 'attendances', pointKept(stringId, 0));
  await each(5, (nth) => entered(client, 'evidence-waivers', {
    observedAt: timeOf(nth * 2_000_000 + 50_000), stringId, from: { footageMm: nth * 2_000_000 }, to: { footageMm: nth * 2_000_000 + 30_000 }, itemCode: 'OD-1', basis: 'waiver',
    agreedBy: 'Edda Voss, for the customer', agreement: `Letter ${nth}`, grounds: 'Gauge under repair', nonconformanceId: null,
  }));
}

/** A few hundred metres of samples between reference checks, and what a detection finds in them. */
async function enterChannel(client: Client, { stringId, channelId, standardId }: Named): Promise<void> {
  const runId = await entered(client, 'inspection-runs', { observedAt: timeOf(0), stringId, endedAt: null, channelIds: [channelId], settings: [], standardId, endReason: null, note: null });
  const checked = (footageMm: number, occasion: string): Promise<string> => entered(client, 'reference-checks', {
    stringId, observedAt: timeOf(footageMm, occasion === 'start' ? 1 : 2 * MINUTE_MS), from: { footageMm }, runId, standardId, mode: 'dynamic', occasion,
    results: [{ channelId, reflector: 'N10 outside', size: '0.50 mm deep', amplitude: '74.5', threshold: '60', sense: 'above' }],
  });
  await checked(0, 'start');
  await each(9, (nth) => checked((nth + 1) * 30_000, 'interval'));
  const uploadId = await entered(client, 'signal-uploads', { runId, positionColumn: 'counter', position: 'counter', decimals: 0, columns: [{ column: 'seam', channelId }] });
  const bytes = Buffer.from(arrowStream([
    { name: 'counter', batches: [int64s(BigInt64Array.from(times(SAMPLED_MM), (mm) => BigInt(mm)))] },
    { name: 'seam', batches: [float32s(Float32Array.from(times(SAMPLED_MM), (mm) => (mm % 50_000 < 12 ? 75 : 10 + (mm % 7))))] },
  ]));
  const reply = await fetch(`${client.url}/api/signal-uploads/${uploadId}/parts/1?firstAt=${timeOf(8_000)}&lastAt=${timeOf(SAMPLED_MM + 8_000)}&direction=forward`, {
    method: 'PUT', body: bytes,
    headers: { authorization: `Bearer ${client.token}`, 'content-type': 'application/vnd.apache.arrow.stream', 'content-digest': `sha-256=:${createHash('sha256').update(bytes).digest('base64')}:` },
  });
  if (!reply.ok) throw new Error(`samples: ${reply.status} ${await reply.text()}`);
  const ruleId = await entered(client, 'indication-rules', {
    observedAt: BEFORE, stringId, name: 'Seam', revision: '1', channels: [{ channelId, sense: 'above', threshold: '50', release: '30' }], minimumLengthMm: 0, combiningMm: 10, bridgedGapMm: 0,
    excludes: ['reference-standard'], spliceMarginMm: 50, repeats: 'all', requirement: 'ET-02 rev 1',
  });
  await entered(client, 'detections', { observedAt: timeOf(SAMPLED_MM, 30 * MINUTE_MS), stringId, ruleId, fromMm: 0, toMm: SAMPLED_MM });
}

const inspectionOf = (stringId: string, gaugeId: string, footageMm: number, nth: number): Fields => ({
  id: uuidv7(), observedAt: timeOf(footageMm, MINUTE_MS), stringId, from: { footageMm }, kind: 'dimensional', characteristic: 'outside diameter', value: `127.${String(10 + (nth % 30))}`, unit: 'mm',
  limitMin: '126.4', limitMax: '127.6', instrumentId: gaugeId, verdict: nth % 500 === 250 ? 'for-evaluation' : 'accepted',
});

/** Enters one more reading of the outside diameter, where there was none. */
export async function anotherDiameter(client: Client, { stringId, gaugeId }: EvidenceString, nth: number): Promise<void> {
  await sent(client, 'inspections', inspectionOf(stringId, gaugeId, 2_000_111 + nth * 10_007, nth));
}

/** Enters one more attendance at the witness point. */
export async function anotherPointKept(client: Client, { stringId }: EvidenceString, nth: number): Promise<void> {
  await sent(client, 'attendances', pointKept(stringId, nth * 100));
}

const pointKept = (stringId: string, fromMm: number): Fields => ({
  id: uuidv7(), observedAt: timeOf(20_000), stringId, from: { footageMm: fromMm }, to: { footageMm: 20_000 }, itemCode: 'P-1', outcome: 'accepted', attendedBy: [{ name: 'Edda Voss', party: 'customer' }], note: null,
});

async function enterInspections(client: Client, { stringId, gaugeId, standardId }: Named): Promise<void> {
  await each(DIAMETERS, (nth) => sent(client, 'inspections', inspectionOf(stringId, gaugeId, Math.floor(((nth + 0.3) * MADE_MM) / DIAMETERS), nth)));
  await each(SEEN, (nth) => entered(client, 'inspections', {
    observedAt: timeOf(nth * (MADE_MM / SEEN), 2 * MINUTE_MS), stringId, from: { footageMm: nth * (MADE_MM / SEEN) }, to: { footageMm: (nth + 1) * (MADE_MM / SEEN) }, kind: 'visual',
    characteristic: 'surface', verdict: nth % 200 === 100 ? 'rejected' : 'accepted',
  }));
  await each(EXAMINED, (nth) => {
    const footageMm = Math.floor(((nth + 0.5) * MADE_MM) / EXAMINED);
    return entered(client, 'examinations', {
      observedAt: timeOf(footageMm, 5 * MINUTE_MS), stringId, from: { footageMm }, to: { footageMm: footageMm + 2_000 }, method: nth % 2 === 0 ? 'UT' : 'VT', technique: 'UT-04 rev 2',
      reflector: 'notch-outside', reflectorSizeMm: '0.50', outcome: 'accepted', standsInFor: [], instrumentId: nth % 2 === 0 ? standardId : null, photoSha256s: [],
    });
  });
}

/** Indications with what was made of them, repairs, and nonconformances. */
async function enterFound(client: Client, { stringId, channelId, gaugeId, doneBy }: Named): Promise<void> {
  await each(INDICATIONS, async (nth) => {
    const footageMm = 320_000 + nth * 95_000;
    const indicationId = await entered(client, 'indications', {
      observedAt: timeOf(footageMm, MINUTE_MS), stringId, from: { footageMm }, to: { footageMm: footageMm + 40 }, channelIds: [channelId], method: 'ET', peak: '78.4', peakUnit: '%', peakIsBound: false,
    });
    if (nth % 10 === 0) return;
    await entered(client, 'indication-evaluations', {
      observedAt: timeOf(footageMm, 2 * MINUTE_MS), stringId, indicationId, relevant: true, method: 'UT', technique: 'UT-07 rev 1', instrumentId: gaugeId, measuredDepthMm: '0.30',
      measuredLengthMm: '38', remainingWallMm: '4.67', limitText: 'Plan, 6.2', limitMinWallMm: '4.50', verdict: 'accept', level: '2',
    });
  });
  await each(20, (nth) => entered(client, 'repairs', {
    observedAt: timeOf(nth * 480_000 + 40_000, 10 * MINUTE_MS), stringId, from: { footageMm: nth * 480_000 + 40_000 }, to: { footageMm: nth * 480_000 + 40_300 }, method: 'grinding', found: 'Scratch',
    depthRemovedMm: '0.35', remainingWallMm: '4.62', wallLimitMm: '4.50', instrumentId: gaugeId, readings: [], chosen: [], photoSha256s: [],
  }));
  await each(15, (nth) => entered(client, 'nonconformances', {
    observedAt: timeOf(nth * 600_000 + 90_000, 10 * MINUTE_MS), stringId, title: `Wall below minimum, ${nth}`, severity: 'major', origin: 'line', stage: 'open', coilExtents: [],
    extents: [{ from: { footageMm: nth * 600_000 + 90_000 }, to: { footageMm: nth * 600_000 + 91_000 } }], extentBasis: 'measured',
    requirement: { document: 'Plan', revision: '2', clause: '4.3', limit: 'wall thickness at least 4.75 mm' }, found: { text: 'Thin band along the seam', method: 'ultrasonic thickness gauge', instrument: 'UT-04', at: timeOf(nth * 600_000 + 90_000), by: doneBy },
  }));
}

/** A sampling plan, and samples of coil ends with tests. */
async function enterTests(client: Client, { stringId }: Named, coilIds: readonly string[]): Promise<void> {
  const at = { observedAt: BEFORE };
  const samplingPlanId = await entered(client, 'sampling-plans', {
    ...at, number: apart('SP'), revision: 1, title: 'Destructive tests', effectiveFrom: '2025-06-01',
    tests: [{ test: 'hardness', rules: [{ rule: 'coil-ends' }], retestAllowed: true, passingRetestsPerFailure: 2, source: 'STS-12 rev 3, clause 7.4' }],
  });
  await entered(client, 'sampling-plan-assignments', { ...at, stringId, samplingPlanId, fromDay: '2026-01-06' });
  await each(COILS * 2, async (nth) => {
    const testSampleId = await entered(client, 'test-samples', {
      ...at, stringId, number: `TS-EV-${nth}`, coilId: coilIds[nth >> 1], coilEnd: nth % 2 === 0 ? 'head' : 'tail', orientation: 'full-section', custody: [],
    });
    await entered(client, 'destructive-tests', {
      observedAt: '2026-01-06T08:00:00Z', stringId, testSampleId, kind: 'hardness', method: 'ISO 6507-1', laboratory: 'Site laboratory',
      readings: [{ name: 'weld metal', printed: '212', unit: 'HV10', min: null, max: '250' }], outcome: 'pass',
    });
  });
}

async function enterHolds(client: Client, stringId: string, coilIds: readonly string[], spliceIds: readonly string[]): Promise<void> {
  await each(8, (nth) => entered(client, 'holds', {
    observedAt: timeOf(nth * 1_000_000 + 700_000), stringId, cause: `Extent not known yet, ${nth}`, intervals: [{ from: { footageMm: nth * 1_000_000 + 700_000 }, to: { footageMm: nth * 1_000_000 + 705_000 } }],
    coilIds: nth === 3 ? coilIds.slice(3, 4) : [], spliceIds: nth === 5 ? spliceIds.slice(5, 6) : [],
  }));
}
