import { Injectable } from '@nestjs/common';
import { doubtOfCalibration, isWithinSpan, spansRestingOn, type CalibrationDoubt, type TimeSpan } from '#libs/validity';
import type { CalibrationVersion } from '../calibrations/calibration.entity.js';
import { judgedCalibration } from '../calibrations/calibration.rules.js';
import { CalibrationsService } from '../calibrations/calibrations.service.js';
import type { MeasuredRecord } from '../measured-work/measured-record.js';
import { MeasuredWork } from '../measured-work/measured-work.service.js';
import { PLAIN_CONCERN, type Concern, type Concerned } from './concerned.js';
import { byKind, LocatedWork, type ConcernedWork } from './located-work.service.js';
import { RecordFinder } from './record-finder.service.js';
import { CALIBRATIONS, INSTRUMENTS, linkOf, startAt } from './record-kinds.js';

type AsKnownAt = string | null;

/** A span of doubt, also that of a calibration that was withdrawn. */
type Doubt = TimeSpan & { readonly isCertain: boolean; readonly reason: CalibrationDoubt['reason'] | 'withdrawn' };

const BECAUSE: Readonly<Record<Doubt['reason'], string>> = {
  'found-out': 'measured with it between its last in-tolerance state and this calibration, which found it out',
  'left-out': 'measured with it after this calibration had left it out of tolerance',
  'not-closed': 'measured with it before this calibration, at which no as-found was taken: how far it had drifted by then is not known',
  withdrawn: 'measured with it after this calibration, which was withdrawn',
};
const NOTHING_IN_DOUBT = 'This calibration found and left the instrument in tolerance: it puts nothing in doubt.';

/** From an instrument or one of its calibrations to what was measured, also through what was calibrated against it. */
@Injectable()
export class ConcernedMeasurements {
  constructor(
    private readonly finder: RecordFinder,
    private readonly calibrations: CalibrationsService,
    private readonly measured: MeasuredWork,
    private readonly located: LocatedWork,
  ) {}

  /** All that was measured with it, and possibly what was measured with instruments while they rested on it as reference standard. */
  async ofInstrument(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const row = await this.finder.one(INSTRUMENTS, id, asKnownAt);
    const [own, against] = await Promise.all([this.calibrations.ofInstruments([id], asKnownAt), this.calibrations.against([id], asKnownAt)]);
    const direct = (await this.measured.with([id], asKnownAt)).map((one): ConcernedWork => ({ ...one, ...byName(one, PLAIN_CONCERN) }));
    const indirect = await this.restingOn(against, `rests on ${row.number} as reference standard`, asKnownAt);
    return this.answer(startAt(INSTRUMENTS, row), [...direct, ...indirect], [...own, ...against], asKnownAt);
  }

  /** What a calibration puts in doubt. */
  async ofCalibration(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const row = await this.finder.one(CALIBRATIONS, id, asKnownAt);
    const active = await this.calibrations.ofInstruments([row.instrumentId], asKnownAt);
    const doubts = row.state === 'void' ? [afterwards(row, active)] : doubtOfCalibration(active.map(judgedCalibration), id);
    const doubtAt = (instant: string): Doubt | undefined => doubts.find((doubt) => isWithinSpan(doubt, instant));
    const direct = (await this.measured.with([row.instrumentId], asKnownAt)).flatMap((one): ConcernedWork[] => {
      const doubt = doubtAt(one.at);
      return doubt === undefined ? [] : [{ ...one, ...byName(one, { isCertain: doubt.isCertain, because: BECAUSE[doubt.reason] }) }];
    });
    const against = (await this.calibrations.against([row.instrumentId], asKnownAt)).filter(({ observedAt }) => doubtAt(observedAt) !== undefined);
    const indirect = await this.restingOn(against, 'rests on it as reference standard, at a time when it was in doubt', asKnownAt);
    const concerned = await this.answer(startAt(CALIBRATIONS, row), [...direct, ...indirect], against, asKnownAt);
    return doubts.length === 0 ? { ...concerned, notes: [NOTHING_IN_DOUBT] } : concerned;
  }

  /** What was measured with instruments while they rested on some calibrations, directly or through others: possibly concerned. */
  private async restingOn(calibrations: readonly CalibrationVersion[], because: string, asKnownAt: AsKnownAt): Promise<ConcernedWork[]> {
    const spans = await this.spansRestingOn(calibrations, asKnownAt);
    const measured = await this.measured.with([...spans.keys()], asKnownAt);
    const rests = ({ at, instrumentIds: used }: MeasuredRecord): boolean => used.some((id) => spans.get(id)?.some((span) => isWithinSpan(span, at)));
    return measured.filter(rests).map((one) => ({ ...one, isCertain: false, because: `measured with an instrument that ${because}, or on what was held against it` }));
  }

  /**
   * When instruments rested on some calibrations, by instrument: those that were calibrated, and in turn those that were held
   * against them while they did.
   */
  private async spansRestingOn(calibrations: readonly CalibrationVersion[], asKnownAt: AsKnownAt): Promise<Map<string, readonly TimeSpan[]>> {
    const meant = new Map(calibrations.map((one) => [one.id, one]));
    for (;;) {
      const instrumentIds = [...new Set([...meant.values()].map(({ instrumentId }) => instrumentId))];
      const [all, against] = await Promise.all([this.calibrations.ofInstruments(instrumentIds, asKnownAt), this.calibrations.against(instrumentIds, asKnownAt)]);
      const spans = new Map(instrumentIds.map((instrumentId) => {
        const own = all.filter((one) => one.instrumentId === instrumentId).map(judgedCalibration);
        return [instrumentId, spansRestingOn(own, (id) => meant.has(id))] as const;
      }));
      const further = against.filter(({ id, referenceInstrumentId, observedAt }) =>
        !meant.has(id) && spans.get(referenceInstrumentId ?? '')?.some((span) => isWithinSpan(span, observedAt)));
      if (further.length === 0) return spans;
      for (const one of further) meant.set(one.id, one);
    }
  }

  private async answer(
    start: Pick<Concerned, 'record' | 'isVoid'>, works: readonly ConcernedWork[], calibrations: readonly CalibrationVersion[], asKnownAt: AsKnownAt,
  ): Promise<Concerned> {
    // A record measured with both, directly and through a standard, is certainly concerned: direct ones come first.
    const once = new Map(works.toReversed().map((work) => [work.record.id, work]));
    const following = await this.located.of([...once.values()].reverse(), asKnownAt);
    return { ...start, ...following, others: [...following.others, ...byKind(calibrations.map((one) => linkOf(CALIBRATIONS, one)))] };
  }
}

/** Who writes a number may mean another instrument. */
function byName({ isNamedById }: MeasuredRecord, concern: Concern): Concern {
  if (isNamedById) return concern;
  return { isCertain: false, because: [...(concern.because === null ? [] : [concern.because]), 'names its instrument by the number only'].join('; ') };
}

/** From a withdrawn calibration to the next one that stands. */
function afterwards({ observedAt }: CalibrationVersion, active: readonly CalibrationVersion[]): Doubt {
  const next = active.find((one) => one.observedAt > observedAt);
  return { from: observedAt, to: next?.observedAt ?? null, reason: 'withdrawn', isCertain: true };
}
