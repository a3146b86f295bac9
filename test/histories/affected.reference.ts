import type { History, HistoryCalibration, HistoryQualification, HistoryQuestion, HistoryWork } from './history.js';

/**
 * Which work a recall concerns, worked out the plain way: each piece of work is asked about by itself, and every answer is found
 * by going through the list of calibrations or qualifications again. There are no spans of time here and nothing is sorted: only
 * whether something lies between two instants.
 */

export type Concern = 'certain' | 'possible';

/** The names of the work concerned. RangeError when the calibration or qualification asked about is not in the history. */
export function affectedBy(history: History, question: HistoryQuestion): ReadonlyMap<string, Concern> {
  const concernOf = concernFor(history, question);
  const affected = new Map<string, Concern>();
  for (const work of history.work) {
    const concern = work.isVoid ? null : concernOf(work);
    if (concern !== null) affected.set(work.name, concern);
  }
  return affected;
}

type ConcernOf = (work: HistoryWork) => Concern | null;

function concernFor(history: History, { by, name }: HistoryQuestion): ConcernOf {
  switch (by) {
    case 'instrument': return (work) => concernByInstrument(history, name, work);
    case 'calibration': return concernByCalibration(history, named(history.calibrations, name));
    case 'qualification': return concernByQualification(history, named(history.qualifications, name));
    case 'weldProcedure': return ({ procedure }) => certainIf(procedure === name);
    case 'fillerBatch': return ({ fillerBatch }) => certainIf(fillerBatch === name);
    case 'person': return ({ person }) => certainIf(person === name);
  }
}

const certainIf = (isConcerned: boolean): Concern | null => isConcerned ? 'certain' : null;

function named<One extends { readonly name: string }>(list: readonly One[], name: string): One {
  const found = list.find((one) => one.name === name);
  if (found === undefined) throw new RangeError(`the history has no ${name}`);
  return found;
}

const standing = ({ calibrations }: History): HistoryCalibration[] => calibrations.filter(({ isVoid }) => !isVoid);

/** The calibrations that count, of one gauge. */
const ofGauge = (history: History, gauge: string): HistoryCalibration[] => standing(history).filter((one) => one.gauge === gauge);

function concernByInstrument(history: History, gauge: string, work: HistoryWork): Concern | null {
  if (work.gauges.includes(gauge)) return 'certain';
  const heldAgainstIt = standing(history).filter(({ against }) => against === gauge);
  return andOnward(history, heldAgainstIt).some((one) => workRestsOn(history, one, work)) ? 'possible' : null;
}

/** With those of gauges that were held against gauges resting on them, again and again until none comes. */
function andOnward(history: History, some: readonly HistoryCalibration[]): HistoryCalibration[] {
  const reached = [...some];
  for (;;) {
    const next = standing(history).find((one) => !reached.includes(one) && reached.some((before) => before.gauge === one.against && restsOn(history, before, one.minute)));
    if (next === undefined) return reached;
    reached.push(next);
  }
}

function workRestsOn(history: History, calibration: HistoryCalibration, { gauges, minute }: HistoryWork): boolean {
  return gauges.includes(calibration.gauge) && restsOn(history, calibration, minute);
}

/** A use rests on the calibration last made, and on the next one too if that one showed what the gauge was like until then. */
function restsOn(history: History, calibration: HistoryCalibration, minute: number): boolean {
  const others = ofGauge(history, calibration.gauge);
  return isLastBy(others, calibration, minute) || (calibration.found !== 'not-taken' && isNextAfter(others, calibration, minute));
}

/** What is done at the very minute of a calibration is done after it. */
function isLastBy(others: readonly HistoryCalibration[], one: HistoryCalibration, minute: number): boolean {
  return one.minute <= minute && !others.some((other) => one.minute < other.minute && other.minute <= minute);
}

function isNextAfter(others: readonly HistoryCalibration[], one: HistoryCalibration, minute: number): boolean {
  return minute < one.minute && !others.some((other) => minute < other.minute && other.minute < one.minute);
}

function concernByCalibration(history: History, asked: HistoryCalibration): ConcernOf {
  // A gauge held against the reference standard while that was in doubt may have been set wrong; nobody has seen that it was.
  const passedOn = andOnward(history, standing(history).filter((one) =>
    one.against === asked.gauge && one.gauge !== asked.gauge && doubtAt(history, asked, one.minute) !== null));
  return (work) => {
    const own = work.gauges.includes(asked.gauge) ? doubtAt(history, asked, work.minute) : null;
    if (own === 'certain') return 'certain';
    return own ?? (passedOn.some((one) => workRestsOn(history, one, work)) ? 'possible' : null);
  };
}

/** What the calibration says against a use of its gauge at that minute. */
function doubtAt(history: History, asked: HistoryCalibration, minute: number): Concern | null {
  const others = ofGauge(history, asked.gauge);
  // A withdrawn calibration tells nothing of the time before it, but it was relied upon afterwards.
  if (asked.isVoid) return certainIf(isLastBy(others, asked, minute));
  if (minute >= asked.minute) return certainIf(!wasLeftGood(asked) && isLastBy(others, asked, minute));
  if (asked.found === 'not-taken') return isNextAfter(others, asked, minute) ? 'possible' : null;
  return certainIf(asked.found === 'out' && isNextAfter(others.filter(endsDoubtBefore), asked, minute));
}

const wasLeftGood = ({ found, left }: HistoryCalibration): boolean => left === 'in' || (left === 'as-found' && found === 'in');

/** A gauge that was found out had been good when it was last left so; what is before an as-found is for that as-found to say. */
const endsDoubtBefore = (one: HistoryCalibration): boolean => wasLeftGood(one) || one.found !== 'not-taken';

type Fault = 'process' | 'time' | 'thickness' | 'thickness-not-stated';

function concernByQualification(history: History, asked: HistoryQualification): ConcernOf {
  const ofPerson = history.qualifications.filter(({ person }) => person === asked.person);
  return (work) => {
    if (!isWelding(work) || work.person !== asked.person || work.process !== asked.process) return null;
    const day = localDay(history, work.minute);
    if (ofPerson.some((one) => faultsOf(one, work, day).length === 0)) return null;
    // Any of them may have covered it, had the thickness been stated.
    return ofPerson.some((one) => faultsOf(one, work, day).every((fault) => fault === 'thickness-not-stated')) ? 'possible' : 'certain';
  };
}

const isWelding = ({ kind }: HistoryWork): boolean => kind === 'weld' || kind === 'repair' || kind === 'seam-event';

/** Everything that keeps the qualification from covering the work. */
function faultsOf(one: HistoryQualification, work: HistoryWork, day: string): Fault[] {
  const faults: Fault[] = [];
  if (work.process !== one.process) faults.push('process');
  const isWithdrawn = one.withdrawnOn !== null && day >= one.withdrawnOn;
  if (day < one.startsOn || day > one.expiresOn || isWithdrawn) faults.push('time');
  if (one.thickness === null) return faults;
  if (work.thickness === null) faults.push('thickness-not-stated');
  else if (work.thickness < one.thickness.from || work.thickness > one.thickness.to) faults.push('thickness');
  return faults;
}

const MINUTES_OF_DAY = 24 * 60;
const MONTH_LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const two = (number: number): string => String(number).padStart(2, '0');

/** Every day of 2026, between the day before and the day after, which a site's local time reaches into. */
const DAYS: readonly string[] = [
  '2025-12-31',
  ...MONTH_LENGTHS.flatMap((length, month) => Array.from({ length }, (_, date) => `2026-${two(month + 1)}-${two(date + 1)}`)),
  '2027-01-01',
];

function localDay({ offsetMinutes }: History, minute: number): string {
  const day = DAYS[1 + Math.floor((minute + offsetMinutes) / MINUTES_OF_DAY)];
  if (day === undefined) throw new RangeError(`minute ${minute} is not of 2026`);
  return day;
}
