import type { SignedIn, TestApi } from '../setup/api.js';
import type { Fields } from '../setup/string-bench.js';
import { entered } from '../setup/string-builder.js';
import { BATCHES, GAUGES, PEOPLE, PROCESSES, REFERENCE_STANDARD } from './draw.js';
import type { History, HistoryCalibration, HistoryQualification, HistoryWork } from './history.js';

/** Where histories are played: a string of the site's time, and two coils that splices are made of. */
export interface Stage {
  readonly engineer: SignedIn;
  readonly stringId: string;
  readonly coilIds: readonly [string, string];
}

/** The ids of what a history is made of, by its names; people, gauges and procedures among them. Batches go by what is written on them. */
export type Played = ReadonlyMap<string, string>;

/** Plays a history in through the API. `tag` keeps its numbers apart from those of others. */
export async function play(api: TestApi, { engineer, stringId, coilIds }: Stage, tag: string, history: History): Promise<Played> {
  const ids = new Map<string, string>();
  const enter = async (name: string, path: string, body: Fields): Promise<string> => {
    const id = await entered(engineer, path, body);
    ids.set(name, id);
    return id;
  };
  const idOf = (name: string): string => {
    const id = ids.get(name);
    if (id === undefined) throw new Error(`${name} was not played`);
    return id;
  };
  const withdraw = async (path: string, name: string): Promise<void> => {
    const answer = await engineer.send('POST', `/api/${path}/${idOf(name)}/void`, { body: { reason: 'Entered by mistake.' }, headers: { 'if-match': '"1"' } });
    if (answer.status !== 200) throw new Error(`${name} was not withdrawn: ${answer.status}`);
  };
  for (const person of PEOPLE) ids.set(person, (await api.signIn('qc-inspector')).personId);
  await Promise.all([
    ...[REFERENCE_STANDARD, ...GAUGES].map((gauge) => enter(gauge, 'instruments', {
      observedAt: BEFORE, number: `${tag}-${gauge}`, kind: gauge === REFERENCE_STANDARD ? 'reference-standard' : 'gauge', name: 'Gauge', measures: ['thickness'], unit: 'mm',
    })),
    ...PROCESSES.map((process) => enter(process, 'weld-procedures', {
      observedAt: BEFORE, number: `${tag}-${process}`, revision: 1, title: 'Tried', purpose: 'splice', process, effectiveFrom: '2025-01-01', ranges: [{ variable: 'current', min: '100', max: '300', unit: 'A' }], lists: [],
    })),
    ...[...new Map(history.work.filter(onSplice).map((work) => [spliceName(work), work]))].map(([name, { fromMm, toMm }]) => enter(name, 'splices', {
      observedAt: SPLICED_AT, stringId, number: `${tag}-${name}`, leavingCoilId: coilIds[0], enteringCoilId: coilIds[1], angleDeg: '45', hand: 'left', confirmed: true, verdict: 'accepted',
      from: { footageMm: fromMm }, to: { footageMm: toMm },
    })),
  ]);
  await Promise.all([
    ...history.calibrations.map((one) => enter(one.name, 'calibrations', calibrationBody(one, tag, idOf))),
    ...history.qualifications.map((one) => enter(one.name, 'qualifications', qualificationBody(one, idOf))),
    ...history.work.map((work) => enter(work.name, `${work.kind}s`, workBody(work, stringId, tag, idOf))),
  ]);
  for (const batch of BATCHES) ids.set(batch, batchOf(tag, batch));
  await Promise.all([
    ...history.qualifications.filter(({ withdrawnOn }) => withdrawnOn !== null).map(({ name, person, withdrawnOn }) => entered(engineer, 'qualification-proofs', {
      observedAt: BEFORE, personId: idOf(person), qualificationId: idOf(name), proof: 'withdrawal', onDay: withdrawnOn, givenBy: 'Coordinator', reasonGiven: 'Tried.',
    })),
    ...history.calibrations.filter(({ isVoid }) => isVoid).map(({ name }) => withdraw('calibrations', name)),
    ...history.work.filter(({ isVoid }) => isVoid).map(({ name, kind }) => withdraw(`${kind}s`, name)),
  ]);
  return ids;
}

const BEFORE = '2025-12-01T00:00:00Z';
/** Its coils had been permitted by then. */
const SPLICED_AT = '2026-03-09T00:00:00Z';
const NEW_YEAR_MS = Date.UTC(2026, 0, 1);
const MS_OF_MINUTE = 60_000;

type IdOf = (name: string) => string;

const instantOf = (minute: number): string => new Date(NEW_YEAR_MS + minute * MS_OF_MINUTE).toISOString();
const onSplice = ({ kind }: HistoryWork): boolean => kind === 'weld' || kind === 'splice-step';
const spliceName = ({ fromMm }: HistoryWork): string => `S${fromMm}`;
const points = (deviation: string): Fields[] => [{ point: '5.00 mm', deviation, min: '-0.010', max: '0.010', unit: 'mm' }];
const DEVIATIONS = { in: '0.002', out: '0.050' } as const;

function calibrationBody({ name, gauge, against, minute, found, left }: HistoryCalibration, tag: string, idOf: IdOf): Fields {
  return {
    observedAt: instantOf(minute), instrumentId: idOf(gauge), referenceInstrumentId: against === null ? null : idOf(against), certificateNumber: `${tag}-${name}`,
    laboratory: 'Measuring room', decisionRule: 'simple-acceptance', asFound: found === 'not-taken' ? null : points(DEVIATIONS[found]), asLeft: left === 'as-found' ? null : points(DEVIATIONS[left]),
  };
}

function qualificationBody({ name, person, process, startsOn, expiresOn, thickness }: HistoryQualification, idOf: IdOf): Fields {
  return {
    observedAt: BEFORE, personId: idOf(person), number: name, standard: 'ISO 9606-1', subject: 'welding', methods: [process], startsOn, expiresOn, authorisationNeeded: false, examiner: 'Body',
    scope: thickness === null ? [] : [{ name: 'strip-thickness', min: hundredths(thickness.from), max: hundredths(thickness.to), unit: 'mm' }],
  };
}

function workBody(work: HistoryWork, stringId: string, tag: string, idOf: IdOf): Fields {
  const { kind, minute, person, gauges, process, fillerBatch, fromMm, toMm } = work;
  const common = { observedAt: instantOf(minute), stringId, doneBy: idOf(person) };
  const place = { from: { footageMm: fromMm }, to: { footageMm: toMm } };
  const instrumentIds = gauges.map(idOf);
  if (kind === 'inspection') {
    return { ...common, ...place, kind: 'dimensional', characteristic: 'bead height', value: '0.2', unit: 'mm', instrumentId: instrumentIds[0] ?? null, verdict: 'accepted' };
  }
  if (kind === 'examination') {
    return { ...common, ...place, method: 'MT', technique: 'MT-1', outcome: 'accepted', standsInFor: [], instrumentId: instrumentIds[0] ?? null, photoSha256s: [] };
  }
  if (kind === 'splice-step') {
    const readings = instrumentIds.map((instrumentId) => ({ measured: 'gap', printed: '0.2', unit: 'mm', instrumentId }));
    return { ...common, spliceId: idOf(spliceName(work)), stage: 'preparation', outcome: 'accepted', readings, examinations: [], coupons: [], photoSha256s: [] };
  }
  const readings = [...instrumentIds.map((instrumentId) => ({ variable: 'current', printed: '180', unit: 'A', instrumentId })), ...thicknessReading(work)];
  const weld = { ...common, weldProcedureId: idOf(process ?? ''), readings };
  if (kind === 'seam-event') return { ...weld, from: place.from, event: 'restart', cause: null };
  const made = { ...weld, chosen: [{ choice: 'process', value: process }], fillerBatch: fillerBatch === null ? null : batchOf(tag, fillerBatch) };
  if (kind === 'repair') return { ...made, ...place, method: 'weld-repair', found: 'Undercut', photoSha256s: [] };
  return { ...made, spliceId: idOf(spliceName(work)) };
}

/** In letters that are easily taken for no digit, so that no batch is like that of another history. */
const batchOf = (tag: string, batch: string): string => `${tag.replace(/\d/g, (digit) => 'ACDEFGHKMN'[Number(digit)] ?? '')}-${batch}`;

const thicknessReading = ({ thickness }: HistoryWork): Fields[] => (thickness === null ? [] : [{ variable: 'strip-thickness', printed: hundredths(thickness), unit: 'mm' }]);

const hundredths = (value: number): string => `${Math.floor(value / 100)}.${String(value % 100).padStart(2, '0')}`;
