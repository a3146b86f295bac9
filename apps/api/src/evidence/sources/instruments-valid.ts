import { instrumentAt, type Calibration, type InstrumentAnswer, type Moment } from '#libs/validity';
import { judgedCalibration } from '../../calibrations/calibration.rules.js';
import type { CalibrationVersion } from '../../calibrations/calibration.entity.js';
import type { Instrument } from '../../instruments/instrument.entity.js';
import { CALIBRATIONS, INSTRUMENTS, linkOf } from '../../recall/record-kinds.js';
import type { RecordLink } from '../../trace/trace.dto.js';
import { localDayNumber } from './local-day-number.js';
import type { WorkOnPipe } from './string-work.js';
import type { WordOnPipe } from './word-on-pipe.js';

/** How the instrument of a reading stood. */
interface Stood {
  readonly isGood: boolean;
  readonly because: string;
  readonly records: readonly RecordLink[];
  readonly enteredAt: readonly string[];
}

/** An instrument with its calibrations, oldest first. */
export interface KnownInstrument {
  readonly row: Instrument;
  readonly calibrations: readonly CalibrationVersion[];
}

/** Whether instruments were good, each judged once for a local day between two calibrations: nothing else decides. */
export function instrumentJudge(instruments: ReadonlyMap<string, KnownInstrument>): (instrumentId: string, moment: Moment) => Stood {
  const judged = new Map([...instruments].map(([id, { calibrations }]) => [id, calibrations.map(judgedCalibration)]));
  const known = new Map<string, Stood>();
  return (instrumentId, moment) => {
    const own = judged.get(instrumentId) ?? [];
    const key = `${instrumentId} ${own.filter(({ instant }) => instant <= moment.instant).length} ${localDayNumber(moment)} ${moment.offsetMinutes}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const stood = stoodOf(instruments.get(instrumentId), own, moment);
    known.set(key, stood);
    return stood;
  };
}

function stoodOf(known: KnownInstrument | undefined, calibrations: readonly Calibration[], moment: Moment): Stood {
  if (known === undefined) return { isGood: false, because: 'the instrument named is not on record', records: [], enteredAt: [] };
  const { row } = known;
  const answer = instrumentAt(calibrations, moment);
  const deciding = known.calibrations.filter(({ id, observedAt }) => isDeciding(answer, id, observedAt));
  const withdrawn = row.state === 'void' ? '; its record was withdrawn' : '';
  return {
    isGood: answer.state === 'good' && row.state === 'active', because: `${row.number} was ${answer.because}${withdrawn}`,
    records: [linkOf(INSTRUMENTS, row), ...deciding.map((one) => linkOf(CALIBRATIONS, one))], enteredAt: [row.enteredAt, ...deciding.map(({ enteredAt }) => enteredAt)],
  };
}

/** The last calibration before, and the one that found the instrument out afterwards. */
const isDeciding = ({ calibration, reasons }: InstrumentAnswer, id: string, observedAt: string): boolean =>
  id === calibration || reasons.some(({ knownSince }) => knownSince === observedAt);

export interface InstrumentsKnown {
  readonly judge: ReturnType<typeof instrumentJudge>;
  readonly momentOf: (instant: string) => Moment;
}

/** What calibrations say of each piece of work with readings; a reading that names no instrument on record leaves its pipe in doubt. */
export function instrumentWords(work: readonly WorkOnPipe[], judge: ReturnType<typeof instrumentJudge>, momentOf: (instant: string) => Moment): WordOnPipe[] {
  return work.flatMap(({ record, on, observedAt, enteredAt, readings }): WordOnPipe[] => {
    if (readings.length === 0) return [];
    const stood = new Set(readings.flatMap(({ instrumentId }) => (instrumentId === null ? [] : [judge(instrumentId, momentOf(observedAt))])));
    const unnamed = readings.filter(({ instrumentId }) => instrumentId === null).map(({ name }) => `${name}, names no instrument on record`);
    const bad = [...stood].filter(({ isGood }) => !isGood);
    const isGood = bad.length + unnamed.length === 0;
    const told = isGood ? [...stood] : bad;
    return [{
      on, says: isGood ? 'confirmed' : 'suspect', because: [...unnamed, ...told.map(({ because }) => because)].join('; '),
      records: [record, ...told.flatMap(({ records }) => records)], enteredAt: [enteredAt, ...told.flatMap((one) => one.enteredAt)],
    }];
  });
}

/** The instruments that readings name, each once. */
export function instrumentsOf(work: readonly WorkOnPipe[]): string[] {
  const ids = new Set<string>();
  for (const { readings } of work) for (const { instrumentId } of readings) if (instrumentId !== null) ids.add(instrumentId);
  return [...ids];
}
