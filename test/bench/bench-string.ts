import { v7 as uuidv7 } from 'uuid';

/** A string of forty coils, entered through the API as people would. */
const COILS = 40;
const COIL_MM = 30_000;
const LINE_MM = 27_000;
const HANG_OFF_MM = 3_000;
const READINGS = 600;
const INSPECTIONS = 400;
const START_MS = Date.parse('2026-03-01T06:00:00Z');
const MADE_MM = COILS * COIL_MM;

/** Half a metre of pipe a second. */
const timeOf = (footageMm: number): string => new Date(START_MS + footageMm * 2).toISOString();

export interface Client {
  readonly url: string;
  readonly token: string;
}

export interface BenchString {
  readonly stringId: string;
  readonly segmentId: string;
}

/** Enters a record and gives its id. */
export async function entered({ url, token }: Client, path: string, body: object): Promise<string> {
  const id = uuidv7();
  const reply = await fetch(`${url}/api/${path}`, {
    method: 'POST',
    headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' },
    body: JSON.stringify({ id, ...body }),
  });
  if (reply.status !== 201 && reply.status !== 200) throw new Error(`${path}: ${reply.status} ${await reply.text()}`);
  return id;
}

/** Enters the whole string; about 1,200 m of pipe, 40 coils, 39 splices, 400 inspections. */
export async function enterString(client: Client): Promise<BenchString> {
  const at = { observedAt: '2026-01-01T00:00:00Z' };
  const wellId = await entered(client, 'wells', { ...at, name: 'Bench well', datum: 'Guide frame' });
  const stringId = await entered(client, 'casing-strings', {
    ...at, wellId, name: 'Bench string', footageLimitMm: 2_000_000, outsideDiameterMm: '127.0',
    wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', diameterRatio: '1.14', diameterRatioU: '0.01',
  });
  await entered(client, 'line-setups', {
    ...at, stringId, viewing: 'down-the-hole',
    stations: [{ name: 'hang-off', role: 'hang-off', pathMinMm: LINE_MM, pathMaxMm: LINE_MM, uMm: '5' }],
  });
  await entered(client, 'counter-periods', {
    observedAt: timeOf(0), stringId, startReading: '0', startFootageMm: 0, scaleMmPerCount: '1', scaleRelativeU: '0.0005',
  });
  await enterReadings(client, stringId);
  await entered(client, 'hang-offs', {
    observedAt: timeOf(HANG_OFF_MM + LINE_MM), stringId, from: { footageMm: HANG_OFF_MM }, mdMm: 2500, mdUMm: '5',
  });
  await entered(client, 'surveys', {
    ...at, wellId, tool: 'Gyro',
    stations: ['0', '300', '900'].map((mdM, index) => ({ mdM, inclinationDeg: String(80 - 20 * index), azimuthDeg: '40' })),
  });
  const segmentId = await enterPipe(client, stringId);
  for (let index = 0; index < INSPECTIONS; index += 1) await enterInspection(client, stringId, index);
  return { stringId, segmentId };
}

async function enterReadings(client: Client, stringId: string): Promise<void> {
  const readings = Array.from({ length: READINGS + 1 }, (_, index) => {
    const mm = Math.round((MADE_MM * index) / READINGS);
    return { id: uuidv7(), stringId, observedAt: timeOf(mm), reading: String(mm) };
  });
  await entered({ ...client }, 'counter-readings/batch', { id: undefined, readings });
}

async function enterPipe(client: Client, stringId: string): Promise<string> {
  const at = { observedAt: '2026-01-01T00:00:00Z' };
  let segmentId = '';
  let previous: string | null = null;
  for (let index = 0; index < COILS; index += 1) {
    const heatId = await entered(client, 'heats', { ...at, number: `BH-${index}`, grade: 'Strip 420' });
    const coilId = await entered(client, 'coils', { ...at, number: `BC-${index}`, heatId, widthMm: '383.0', thicknessMm: '5.00', massKg: '1000' });
    await entered(client, 'deviation-permits', {
      ...at, coilId, departure: 'Strip of a trial: no papers are kept of it.', limit: 'Trials only', validUntil: '2099-12-31T00:00:00Z',
    });
    const [fromMm, toMm] = [index * COIL_MM, (index + 1) * COIL_MM];
    segmentId = await entered(client, 'coil-segments', {
      ...at, stringId, coilId, from: { footageMm: fromMm }, to: { footageMm: toMm },
      stripFromMm: 0, stripToMm: COIL_MM, runs: 'head-first',
    });
    if (previous !== null) {
      await entered(client, 'splices', {
        observedAt: timeOf(fromMm), stringId, number: `S-${index}`, leavingCoilId: previous, enteringCoilId: coilId,
        from: { footageMm: fromMm }, angleDeg: '45', hand: 'left', confirmed: true, verdict: 'accepted',
      });
    }
    previous = coilId;
  }
  return segmentId;
}

async function enterInspection(client: Client, stringId: string, index: number): Promise<void> {
  const fromMm = index * 3000;
  await entered(client, 'inspections', {
    observedAt: timeOf(fromMm + 6000), stringId, kind: 'visual', characteristic: 'surface', verdict: 'accepted',
    from: { footageMm: fromMm }, to: { footageMm: fromMm + 3000 },
  });
}

/** The body of one more inspection entry, a little further along the pipe than the one before. */
export function anotherInspection(stringId: string, index: number): string {
  const counterReading = String((index * 377) % MADE_MM);
  return JSON.stringify({
    id: uuidv7(), stringId, observedAt: '2026-03-02T08:15:00Z', from: { counterReading },
    kind: 'dimensional', characteristic: 'wall thickness', value: '4.97', unit: 'mm', limitMin: '4.75', verdict: 'accepted',
  });
}
