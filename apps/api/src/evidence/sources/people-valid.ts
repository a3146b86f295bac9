import { instantOf } from '#libs/persistence';
import { bestQualification, type Moment, type QualifiedEvent } from '#libs/validity';
import type { Channel } from '../../channels/channel.entity.js';
import type { InspectionRun } from '../../inspection-runs/inspection-run.entity.js';
import type { JudgedRow } from '../../qualified/qualified.service.js';
import { CHANNELS, INSPECTION_RUNS, linkOf, QUALIFICATIONS } from '../../recall/record-kinds.js';
import type { SignalTrack } from '../../signals/signal-tracks.service.js';
import type { RecordLink } from '../../trace/trace.dto.js';
import type { Work } from '../../work-standing/work-standings.service.js';
import { localDayNumber } from './local-day-number.js';
import type { DoneByPerson, WorkOnPipe } from './string-work.js';
import type { WordOnPipe } from './word-on-pipe.js';

/** How a person stood for some work. */
interface Stood {
  readonly isCovered: boolean;
  readonly because: string;
  /** The qualification that covers it or comes nearest; none where there is none. */
  readonly records: readonly RecordLink[];
  readonly enteredAt: readonly string[];
}

/** Whether people were qualified, each distinct person, local day and work judged once. @param judged by person */
export function peopleJudge(judged: ReadonlyMap<string, readonly JudgedRow[]>): (personId: string, work: Work, moment: Moment) => Stood {
  const known = new Map<string, Stood>();
  return (personId, work, moment) => {
    const key = `${personId} ${localDayNumber(moment)} ${moment.offsetMinutes} ${work.level ?? ''} ${JSON.stringify([work.method, work.variables])}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const stood = stoodOf(judged.get(personId) ?? [], { ...moment, ...work });
    known.set(key, stood);
    return stood;
  };
}

function stoodOf(rows: readonly JudgedRow[], event: QualifiedEvent): Stood {
  const best = bestQualification(rows.map(({ qualification }) => qualification), event);
  const row = best.found === 'none' ? undefined : rows.find(({ qualification }) => qualification.id === best.id)?.row;
  return {
    isCovered: best.found === 'covering', because: best.because,
    records: row === undefined ? [] : [linkOf(QUALIFICATIONS, row)], enteredAt: row === undefined ? [] : [row.enteredAt],
  };
}

export interface PeopleKnown {
  readonly judge: ReturnType<typeof peopleJudge>;
  readonly momentOf: (instant: string) => Moment;
}

/** What qualifications say of each piece of work; of one without a method nothing. */
export function peopleWords(work: readonly WorkOnPipe[], known: PeopleKnown): WordOnPipe[] {
  return work.flatMap(({ record, on, observedAt, enteredAt, parts }) => parts.flatMap((part) => (
    part.work === null ? [] : [wordOf(part, { on, records: [record], enteredAt: [enteredAt] }, known.judge(part.personId, part.work, known.momentOf(observedAt)))])));
}

type About = Pick<WordOnPipe, 'on' | 'records' | 'enteredAt'>;

function wordOf({ did, isNamed }: Pick<DoneByPerson, 'did' | 'isNamed'>, { on, records, enteredAt }: About, stood: Stood): WordOnPipe {
  const unnamed = isNamed ? '' : ', and the record names nobody for it: who did the whole is taken';
  return {
    on, says: stood.isCovered && isNamed ? 'confirmed' : 'suspect', because: `${did}: ${stood.because}${unnamed}`,
    records: [...records, ...stood.records], enteredAt: [...enteredAt, ...stood.enteredAt],
  };
}

/** A run of a channel with the pipe that it read. */
export interface ReadByRun {
  readonly channel: Channel;
  readonly run: InspectionRun;
  readonly track: Pick<SignalTrack, 'pieces' | 'read'>;
}

/** What qualifications say of the pipe that runs read, by the method of their channel: on the day of the first sample and on that of the last. */
export function runWords(runs: readonly ReadByRun[], { judge, momentOf }: PeopleKnown): WordOnPipe[] {
  return runs.flatMap(({ channel, run, track: { pieces, read } }): WordOnPipe[] => {
    const work = workOfChannel(channel);
    if (work === null || read.isEmpty) return [];
    const about = { on: read, records: [linkOf(INSPECTION_RUNS, run), linkOf(CHANNELS, channel)], enteredAt: [run.enteredAt] };
    const done = { did: `${channel.name}, ${work.method ?? ''}`, isNamed: true };
    const stood = [...new Set(daysOf(pieces, run).map((instant) => judge(run.doneBy, work, momentOf(instant))))];
    const bad = stood.filter(({ isCovered }) => !isCovered);
    return [wordOf(done, about, together(bad.length > 0 ? bad : stood))];
  });
}

/** Of several days, all of which have to be covered. */
function together(stood: readonly Stood[]): Stood {
  const records = new Map(stood.flatMap((one) => one.records).map((link) => [link.id, link]));
  return {
    isCovered: stood.every(({ isCovered }) => isCovered), because: stood.map(({ because }) => because).join('; '), records: [...records.values()],
    enteredAt: stood.flatMap(({ enteredAt }) => enteredAt),
  };
}

function workOfChannel({ method, technique }: Channel): Work | null {
  return method === null ? null : { method, level: null, variables: technique === null ? [] : [{ name: 'technique', value: technique, unit: null }] };
}

/** When its samples began and ended. */
function daysOf(pieces: SignalTrack['pieces'], { observedAt }: InspectionRun): string[] {
  if (pieces.length === 0) return [observedAt];
  return [instantOf(pieces.reduce((first, { fromUs }) => Math.min(first, fromUs), Infinity)), instantOf(pieces.reduce((last, { toUs }) => Math.max(last, toUs), 0))];
}

/** Everybody of whom a qualification is asked. */
export function peopleOf(work: readonly WorkOnPipe[], runs: readonly ReadByRun[]): string[] {
  const ids = new Set(runs.map(({ run }) => run.doneBy));
  for (const { parts } of work) for (const part of parts) if (part.work !== null) ids.add(part.personId);
  return [...ids];
}

/** The pipe that each run of a channel read, go by go; a run that is not known is left out. */
export const readBy = (channel: Channel, tracks: readonly SignalTrack[], runs: ReadonlyMap<string, InspectionRun>): ReadByRun[] => tracks.flatMap((track) => {
  const run = runs.get(track.runId);
  return run === undefined ? [] : [{ channel, run, track }];
});
