import { Injectable } from '@nestjs/common';
import { doubtfulSpans, instrumentAt, isWithinSpan, leftOutSpans, unclosedSpans, type DoubtfulSpan, type LeftOutSpan } from '#libs/validity';
import { judgedCalibration } from '../calibrations/calibration.rules.js';
import { CalibrationsService } from '../calibrations/calibrations.service.js';
import type { CalibrationVersion } from '../calibrations/calibration.entity.js';
import type { Instrument } from '../instruments/instrument.entity.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import type { MeasuredRecord } from '../measured-work/measured-record.js';
import { MeasuredWork } from '../measured-work/measured-work.service.js';
import { WorkPlaces } from '../measured-work/work-places.service.js';
import type { PlacedMoment } from '../qualified/moment-parameter.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { deviationsText, proposedNonconformances, type DoubtOverInstrument } from './doubt-proposals.js';
import { doubtfulRecord } from './doubtful-records.js';
import type { DoubtfulSpanAnswer, InstrumentDoubtAnswer, InstrumentStandingAnswer } from './instrument-standing.dto.js';

const CAUTION =
  'An aid for sorting: the greatest deviation found is set against the distance of a reading from its limit, wherever in its range the '
  + 'instrument was used. The evaluation is for the responsible person.';

/** Whether instruments were good when they were used, and what was measured when they were not. */
@Injectable()
export class InstrumentStandings {
  constructor(
    private readonly instruments: InstrumentsService,
    private readonly calibrations: CalibrationsService,
    private readonly measured: MeasuredWork,
    private readonly places: WorkPlaces,
  ) {}

  /** Whether it was good at an instant, by the local day of the offset that the instant is given with. Refuses with 404. */
  async at(instrumentId: string, moment: PlacedMoment, asKnownAt: string | null): Promise<InstrumentStandingAnswer> {
    const [instrument, calibrations] = await this.known(instrumentId, asKnownAt);
    const { state, because, reasons, calibration, dueOn } = instrumentAt(calibrations.map(judgedCalibration), moment);
    return { instrument: linkOf(instrument), at: moment.text, state, because, reasons: [...reasons], calibrationId: calibration, dueOn };
  }

  /** The times in which it is in doubt, with what was measured in them and what to enter. Refuses with 404. */
  async doubt(instrumentId: string, asKnownAt: string | null): Promise<InstrumentDoubtAnswer> {
    const [instrument, calibrations] = await this.known(instrumentId, asKnownAt);
    const judged = calibrations.map(judgedCalibration);
    const all = await this.measured.with([instrumentId], asKnownAt);
    const doubts = [...doubtfulSpans(judged).map(foundOut), ...leftOutSpans(judged).map(leftOut)].sort((one, other) => ((one.from ?? '') < (other.from ?? '') ? -1 : 1));
    const spans = await Promise.all(doubts.map((doubt) => this.spanAnswer(instrument, doubt, calibrations, all, asKnownAt)));
    return { instrument: linkOf(instrument), spans, unclosed: unclosedSpans(judged).map(({ from, to }) => ({ from, to })), caution: CAUTION };
  }

  private async known(instrumentId: string, asKnownAt: string | null): Promise<[Instrument, CalibrationVersion[]]> {
    return Promise.all([this.instruments.row(instrumentId, asKnownAt), this.calibrations.ofInstruments([instrumentId], asKnownAt)]);
  }

  private async spanAnswer(
    instrument: Instrument, doubt: DoubtOverInstrument, calibrations: readonly CalibrationVersion[], all: readonly MeasuredRecord[], asKnownAt: string | null,
  ): Promise<DoubtfulSpanAnswer> {
    const within = all.filter(({ at }) => isWithinSpan(doubt, at));
    const calibration = calibrations.find(({ id }) => id === doubt.calibrationId);
    const [pipe, readings] = await Promise.all([this.places.pipeOf(within.map(({ place }) => place), asKnownAt), this.measured.readings(within, instrument.id, asKnownAt)]);
    return {
      from: doubt.from, to: doubt.to, foundById: doubt.calibrationId, found: deviationsText(doubt, false),
      records: within.map((one) => doubtfulRecord(one, readings.get(one.record.id) ?? [], doubt)),
      proposals: proposedNonconformances(within.map((measured, index) => ({ measured, pipe: pipe[index] ?? [] })), {
        instrument, doubt, certificateNumber: calibration?.certificateNumber ?? '', by: calibration?.doneBy ?? '',
      }),
    };
  }
}

const foundOut = ({ from, to, foundBy, deviations }: DoubtfulSpan): DoubtOverInstrument => ({ from, to, at: to, calibrationId: foundBy, deviations });
const leftOut = ({ from, to, leftBy, deviations }: LeftOutSpan): DoubtOverInstrument => ({ from, to, at: from, calibrationId: leftBy, deviations });

const linkOf = (instrument: Instrument): RecordLink => linkTo('instrument', instrument, instrument.number);
