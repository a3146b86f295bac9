import { v7 as uuidv7 } from 'uuid';
import { item, plan } from '../e2e/evidence.factory.js';
import { at, type Fields } from '../e2e/line.factory.js';
import { arrowPart, channel, digestOfBytes, inspectionRun, range, upload } from '../e2e/signals.factory.js';
import { Wire, WIRE_PASSWORD } from '../setup/wire.js';
import { PartSender } from './part-sender.js';

/** A string that hangs in the well, inspected between checks that passed and after the last of them, and released as a whole. */
export interface ReleasedWorld {
  readonly stringId: string;
  readonly channelId: string;
  readonly runId: string;
  readonly standardId: string;
  readonly releaseId: string;
}

/** Pipe that was inspected after the last check that passed: what a check that fails puts in doubt. mm. */
export const AFTER_LAST_CHECK = { fromMm: 50_000, toMm: 180_000 } as const;
const MADE_MM = 200_000;
const EVERY_MM = 10;

/** Enters a record and gives its id. Throws when it is not taken. */
export async function made(wire: Wire, path: string, content: Fields): Promise<string> {
  const id = uuidv7();
  const { status, body } = await wire.post(path, { id, ...content });
  if (status !== 201) throw new Error(`no ${path}: ${JSON.stringify(body)}`);
  return id;
}

/** Enters it all over the wire, signed by who holds the token. */
export async function makeReleasedWorld(url: string, token: string): Promise<ReleasedWorld> {
  const wire = new Wire(url, token);
  const stringId = await hangingString(wire);
  const standardId = await made(wire, 'instruments', { observedAt: at('05:00'), number: 'RS-1', kind: 'reference-standard', name: 'Notched tube', measures: ['notch'], unit: 'mm' });
  const channelId = await made(wire, 'channels', channel(stringId, 'ET-seam-1', {
    measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', sampling: { per: 'length', everyMm: String(EVERY_MM) }, threshold: { sense: 'above', level: '60' }, plausible: { from: null, to: null },
  }));
  const runId = await made(wire, 'inspection-runs', inspectionRun(stringId, [channelId], { standardId }));
  const uploadId = await made(wire, 'signal-uploads', upload(runId, [{ column: 'seam', channelId }]));
  const world = { stringId, channelId, runId, standardId };
  await made(wire, 'reference-checks', check(world, '06:05', '74.5', 'start'));
  await sendPipe(url, token, uploadId, 1, [0, AFTER_LAST_CHECK.fromMm], ['06:10', '08:00']);
  await made(wire, 'reference-checks', check(world, '08:05', '73', 'interval'));
  await sendPipe(url, token, uploadId, 2, [AFTER_LAST_CHECK.fromMm, AFTER_LAST_CHECK.toMm], ['08:10', '16:00']);
  await made(wire, 'control-plans', plan(stringId, [item('ET-1', 'channel-inspected', { channelId }), item('REL', 'released')]));
  const releaseId = await released(wire, stringId);
  wire.close();
  return { ...world, releaseId };
}

/** A check of the channel that showed so many per cent, where 60 had to be reached. */
export const check = ({ stringId, channelId, runId, standardId }: Omit<ReleasedWorld, 'releaseId'>, clock: string, showed: string, occasion: string): Fields => ({
  stringId, observedAt: at(clock), from: { footageMm: 0 }, runId, standardId, mode: 'dynamic', occasion,
  results: [{ channelId, reflector: 'N10 outside', size: '0.50 mm deep', amplitude: showed, threshold: '60', sense: 'above' }],
});

async function hangingString(wire: Wire): Promise<string> {
  const wellId = await made(wire, 'wells', { name: 'Lindmoor Geothermal 2', datum: 'Guide frame', observedAt: at('05:00') });
  const stringId = await made(wire, 'casing-strings', {
    wellId, name: 'Main string', footageLimitMm: 1_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', observedAt: at('05:10'),
  });
  const stations = [{ name: 'hang-off', role: 'hang-off', pathMinMm: 18_000, pathMaxMm: 18_000, uMm: '10' }];
  await made(wire, 'line-setups', { stringId, observedAt: at('05:30'), viewing: 'down-the-hole', stations });
  await made(wire, 'counter-periods', { stringId, observedAt: at('06:00'), startReading: '0', startFootageMm: 0, scaleMmPerCount: '1.0000', scaleRelativeU: '0.0005', wheel: 'W-2' });
  await made(wire, 'hang-offs', { stringId, observedAt: at('07:00'), from: { footageMm: 2_840 }, mdMm: 2_500, mdUMm: '5' });
  for (const [clock, reading] of [['06:00', 0], ['17:00', MADE_MM]] as const) await made(wire, 'counter-readings', { stringId, observedAt: at(clock), reading: String(reading) });
  await made(wire, 'shoe-ties', { stringId, observedAt: at('17:00'), place: { footageMm: 141_754 }, shoeMdMm: 62_500, shoeUMm: '50', method: 'Wireline tag' });
  return stringId;
}

async function sendPipe(url: string, token: string, uploadId: string, partNo: number, [fromMm, toMm]: readonly [number, number], [first, last]: readonly [string, string]): Promise<void> {
  const counter = range(fromMm, toMm, EVERY_MM);
  const bytes = arrowPart({ counter, values: { seam: counter.map((mm) => 10 + (mm % 7)) } });
  const { status, body } = await new PartSender(url, token, 60_000).put({
    uploadId, partNo, query: `firstAt=${at(first)}&lastAt=${at(last)}&direction=forward`, headers: { 'content-type': 'application/vnd.apache.arrow.stream', 'content-digest': digestOfBytes(bytes) }, bytes,
  });
  if (status !== 200) throw new Error(`part ${partNo} not taken: ${JSON.stringify(body)}`);
}

async function released(wire: Wire, stringId: string): Promise<string> {
  const { body } = await wire.get(`casing-strings/${stringId}/release-proposal?fromM=0&toM=${MADE_MM / 1000}`);
  return made(wire, 'releases', {
    stringId, fromMm: 0, toMm: MADE_MM, evidenceSha256: body['evidenceSha256'], exceptions: [{ code: 'ET-1', because: 'The closing check is to come' }],
    ownWorkBecause: 'Nobody else is on shift', grounds: 'All items looked at', secret: WIRE_PASSWORD,
  });
}
