import { Injectable } from '@nestjs/common';
import { microseconds, type RecordVersion } from '#libs/persistence';
import type { CounterPeriodVersion } from '../line/counter-period.entity.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { PLAIN_CONCERN, type Concerned, type ConcernedSpan } from './concerned.js';
import { ConcernedMeasurements } from './concerned-measurements.service.js';
import { ConcernedNonconformances } from './concerned-nonconformances.service.js';
import { ConcernedPeople } from './concerned-people.service.js';
import { ConcernedQualifiedWork } from './concerned-qualified-work.service.js';
import { ConcernedStrips, wholeCoil, type ConcernedStrip } from './concerned-strip.service.js';
import { ConcernedWelds } from './concerned-welds.service.js';
import { linkList } from './link-list.js';
import { pipeMadeIn } from './pipe-made-in-period.js';
import { givenSpans, placedSpan } from './placed-span.js';
import type { RecallQuestion } from './recall-question.js';
import { RecordFinder } from './record-finder.service.js';
import {
  CERTIFICATES, COILS, COUNTER_PERIODS, HEATS, HOLDS, linkOf, NONCONFORMANCES, PLACED, READINGS, SHOE_TIES, SPLICES, startAt, type RecordKind,
} from './record-kinds.js';

type AsKnownAt = string | null;

/** From the record of a recall to everything on record that follows from it. */
@Injectable()
export class ConcernedRecords {
  constructor(
    private readonly finder: RecordFinder,
    private readonly strips: ConcernedStrips,
    private readonly models: LengthModels,
    private readonly measurements: ConcernedMeasurements,
    private readonly qualifiedWork: ConcernedQualifiedWork,
    private readonly welds: ConcernedWelds,
    private readonly people: ConcernedPeople,
    private readonly nonconformances: ConcernedNonconformances,
  ) {}

  /** Refuses with 404 when there is no such record, or it was not known then. */
  of({ by, id, asKnownAt }: RecallQuestion): Promise<Concerned> {
    switch (by) {
      case 'heat':
        return this.ofStrip(HEATS, id, asKnownAt, () => this.strips.ofHeat(id, asKnownAt));
      case 'certificate':
        return this.ofStrip(CERTIFICATES, id, asKnownAt, () => this.strips.ofCertificate(id, asKnownAt));
      case 'coil':
        return this.ofStrip(COILS, id, asKnownAt, () => this.strips.ofParts([wholeCoil(id)], asKnownAt));
      case 'person':
        return this.people.of(id, asKnownAt);
      case 'splice':
        return this.ofSplice(id, asKnownAt);
      case 'counterPeriod':
        return this.ofCounterPeriod(id, asKnownAt);
      case 'nonconformance':
        return this.nonconformances.of(id, asKnownAt);
      case 'instrument':
        return this.measurements.ofInstrument(id, asKnownAt);
      case 'calibration':
        return this.measurements.ofCalibration(id, asKnownAt);
      case 'qualification':
        return this.qualifiedWork.of(id, asKnownAt);
      case 'weldProcedure':
        return this.welds.ofWeldProcedure(id, asKnownAt);
      case 'fillerBatch':
      case 'gasBatch':
        return this.welds.ofBatch(by, id, asKnownAt);
    }
  }

  private async ofStrip<R extends RecordVersion>(
    kind: RecordKind<R>, id: string, asKnownAt: AsKnownAt, strip: () => Promise<ConcernedStrip>,
  ): Promise<Concerned> {
    const row = await this.finder.one(kind, id, asKnownAt);
    return { ...startAt(kind, row), ...(await strip()), others: [], notes: [] };
  }

  private async ofSplice(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const row = await this.finder.one(SPLICES, id, asKnownAt);
    return { ...startAt(SPLICES, row), spans: [placedSpan(SPLICES, row)], coils: [], others: [], notes: [] };
  }

  private async ofCounterPeriod(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const row = await this.finder.one(COUNTER_PERIODS, id, asKnownAt);
    const model = await this.models.of(row.stringId, asKnownAt);
    const resting = await Promise.all(
      PLACED.map(async (kind) => (await this.finder.restingOn(kind, id, asKnownAt)).map((one) => placedSpan(kind, one))),
    );
    const nonconformances = await this.finder.restingOn(NONCONFORMANCES, id, asKnownAt);
    const extents = await Promise.all(nonconformances.map((one) => this.nonconformances.strip({ ...one, coilExtents: [] }, asKnownAt)));
    const holds = await this.finder.restingOn(HOLDS, id, asKnownAt);
    const ties = await this.finder.restingOn(SHOE_TIES, id, asKnownAt);
    const read = { sql: 'string_id = $1 and counter = $2 and observed_at <@ tstzrange($3, $4)', parameters: [row.stringId, row.counter, row.during.from, row.during.until] };
    const readings = await this.finder.named(READINGS, read, asKnownAt);
    const others = [
      { kind: SHOE_TIES.kind, ...linkList(ties.map((tie) => linkOf(SHOE_TIES, tie))) },
      { kind: READINGS.kind, ...readings },
    ];
    return {
      ...startAt(COUNTER_PERIODS, row),
      spans: [...madeIn(row, model), ...resting.flat(), ...extents.flatMap(({ spans }) => spans), ...holds.flatMap((hold) => givenSpans(HOLDS, hold, model.line))],
      coils: [],
      others: others.filter(({ total }) => total > 0),
      notes: [],
    };
  }
}

/** Only the master counter says how much pipe was made. */
function madeIn(row: CounterPeriodVersion, { string, line, records, readings }: StringModel): ConcernedSpan[] {
  const period = line.periodById(row.id);
  if (row.counter !== string.masterCounter || period === null) return [];
  const [fromUs, untilUs] = [microseconds(row.during.from), row.during.until === null ? Infinity : microseconds(row.during.until)];
  const read = readings
    .filter(({ observedAt }) => microseconds(observedAt) >= fromUs && microseconds(observedAt) < untilUs)
    .map(({ reading }) => Number(reading));
  const next = records.periods.find(({ counter, observedAt }) => counter === row.counter && microseconds(observedAt) > fromUs);
  const span = pipeMadeIn(period, read, next === undefined ? null : Number(next.startFootageMm));
  return span === null ? [] : [{ record: linkOf(COUNTER_PERIODS, row), stringId: row.stringId, span, ...PLAIN_CONCERN }];
}
