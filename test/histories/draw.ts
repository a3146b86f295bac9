import { Draws } from '../properties/line-draws.reference.js';
import type { History, HistoryCalibration, HistoryQualification, HistoryQuestion, HistoryWork } from './history.js';

export const REFERENCE_STANDARD = 'RS';
export const GAUGES = ['G1', 'G2'] as const;
export const PEOPLE = ['P1', 'P2'] as const;
export const PROCESSES = ['135', '521'] as const;
export const BATCHES = ['ALPHA', 'BRAVO'] as const;
/** Sites, by the minutes that their time is ahead of UTC. */
export const OFFSETS = [0, 60, -300, 840] as const;
/** Footage that splices are made at. */
const SPLICES = [{ fromMm: 2_600, toMm: 3_000 }, { fromMm: 62_700, toMm: 63_100 }, { fromMm: 100_000, toMm: 100_300 }] as const;

const DAYS = 59;
const MINUTES_OF_DAY = 1440;
const DAY_TEXTS = Array.from({ length: DAYS }, (_, index) => `2026-${index < 31 ? '01' : '02'}-${String(index < 31 ? index + 1 : index - 30).padStart(2, '0')}`);

/** A history in which much meets: days are few, and much is done at the minute of a calibration or near midnight. */
export function drawHistory(seed: number): History {
  const draws = new Draws(seed);
  const calibrations = [REFERENCE_STANDARD, ...GAUGES].flatMap((gauge) => drawCalibrations(draws, gauge));
  return {
    offsetMinutes: draws.oneOf(OFFSETS),
    calibrations,
    qualifications: PEOPLE.flatMap((person) => Array.from({ length: draws.whole(0, 3) }, (_, nth) => drawQualification(draws, person, nth))),
    work: Array.from({ length: 16 }, (_, nth) => drawWork(draws, nth, calibrations)),
  };
}

/** Some questions to ask of it, every kind among them. */
export function drawQuestions(seed: number, { calibrations, qualifications }: History): HistoryQuestion[] {
  const draws = new Draws(seed + 0x9e37);
  const some = <T>(list: readonly T[], count: number): T[] => Array.from({ length: list.length === 0 ? 0 : count }, () => draws.oneOf(list));
  return [
    { by: 'instrument', name: draws.oneOf([REFERENCE_STANDARD, ...GAUGES]) },
    ...some(calibrations, 3).map(({ name }): HistoryQuestion => ({ by: 'calibration', name })),
    ...some(qualifications, 2).map(({ name }): HistoryQuestion => ({ by: 'qualification', name })),
    draws.oneOf<HistoryQuestion>([{ by: 'weldProcedure', name: draws.oneOf(PROCESSES) }, { by: 'fillerBatch', name: draws.oneOf(BATCHES) }, { by: 'person', name: draws.oneOf(PEOPLE) }]),
  ];
}

function drawMinute(draws: Draws): number {
  const minuteOfDay = draws.chance(0.4) ? draws.oneOf([0, 1, 59, 60, 299, 300, 600, 1379, 1380, 1439]) : draws.whole(0, MINUTES_OF_DAY - 1);
  return draws.whole(1, DAYS - 2) * MINUTES_OF_DAY + minuteOfDay;
}

function drawCalibrations(draws: Draws, gauge: string): HistoryCalibration[] {
  const minutes = new Set(Array.from({ length: draws.whole(1, 4) }, () => drawMinute(draws)));
  return [...minutes].map((minute, nth): HistoryCalibration => {
    const found = draws.oneOf(['in', 'in', 'out', 'not-taken'] as const);
    const left = found === 'not-taken' ? draws.oneOf(['in', 'in', 'out'] as const) : draws.oneOf(['as-found', 'in', 'in', 'out'] as const);
    // The second gauge may be held against the first, and so rest on the standard through it.
    const standards = { [REFERENCE_STANDARD]: [], G1: [REFERENCE_STANDARD], G2: [REFERENCE_STANDARD, 'G1', 'G1'] }[gauge] ?? [];
    const against = standards.length > 0 && draws.chance(0.6) ? draws.oneOf(standards) : null;
    return { name: `${gauge}-C${nth}`, gauge, against, minute, found, left, isVoid: draws.chance(0.15) };
  });
}

function drawQualification(draws: Draws, person: string, nth: number): HistoryQualification {
  const start = draws.whole(0, DAYS - 20);
  const from = draws.oneOf([300, 450, 500]);
  return {
    name: `${person}-Q${nth}`, person, process: draws.oneOf(PROCESSES), startsOn: DAY_TEXTS[start]!, expiresOn: DAY_TEXTS[Math.min(DAYS - 1, start + draws.whole(0, 40))]!,
    withdrawnOn: draws.chance(0.25) ? DAY_TEXTS[draws.whole(start, DAYS - 1)]! : null,
    thickness: draws.chance(0.5) ? { from, to: from + draws.oneOf([0, 100, 400]) } : null,
  };
}

function drawWork(draws: Draws, nth: number, calibrations: readonly HistoryCalibration[]): HistoryWork {
  const kind = draws.oneOf(['inspection', 'examination', 'weld', 'weld', 'repair', 'seam-event', 'splice-step'] as const);
  const isWelding = kind === 'weld' || kind === 'repair' || kind === 'seam-event';
  const process = isWelding ? draws.oneOf(PROCESSES) : null;
  const gauges = [REFERENCE_STANDARD, ...GAUGES].filter((gauge) => draws.chance(gauge === REFERENCE_STANDARD ? 0.1 : 0.4));
  return {
    name: `W${nth}`, kind, minute: draws.chance(0.3) ? draws.oneOf(calibrations).minute + draws.oneOf([-1, 0, 0, 1]) : drawMinute(draws),
    // An inspection or examination names one instrument.
    person: draws.oneOf(PEOPLE), gauges: kind === 'inspection' || kind === 'examination' ? gauges.slice(-1) : gauges, process, thickness: isWelding && draws.chance(0.7) ? draws.oneOf([299, 300, 500, 600, 900, 901]) : null,
    procedure: process, fillerBatch: (kind === 'weld' || kind === 'repair') && draws.chance(0.7) ? draws.oneOf(BATCHES) : null, ...drawSpan(draws, kind), isVoid: draws.chance(0.1),
  };
}

function drawSpan(draws: Draws, kind: HistoryWork['kind']): { fromMm: number; toMm: number } {
  if (kind === 'weld' || kind === 'splice-step') return draws.oneOf(SPLICES);
  const fromMm = draws.whole(0, 139_000);
  return { fromMm, toMm: kind === 'seam-event' ? fromMm + 1 : fromMm + draws.oneOf([1, 100, 900]) };
}
