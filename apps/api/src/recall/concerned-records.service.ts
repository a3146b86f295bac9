import { Injectable } from '@nestjs/common';
import { microseconds, type RecordVersion } from '#libs/persistence';
import type { CounterPeriodVersion } from '../line/counter-period.entity.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import type { PlacedVersion } from '../line/placed.entity.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import type { Rejoin } from '../rejoins/rejoin.entity.js';
import type { Weld } from '../welds/weld.entity.js';
import type { Concerned, ConcernedSpan } from './concerned.js';
import { ConcernedStrips, type ConcernedStrip } from './concerned-strip.service.js';
import { linkList } from './link-list.js';
import { pipeMadeIn } from './pipe-made-in-period.js';
import type { RecallQuestion } from './recall-question.js';
import { RecordFinder } from './record-finder.service.js';
import {
  CALIBRATIONS, CERTIFICATES, CHECKS, COILS, COUNTER_PERIODS, CUT_OUTS, HEATS, INSPECTIONS, INSTRUMENTS, linkOf, NONCONFORMANCES, PEOPLE, PERSONS_OTHERS, PERSONS_PLACED,
  PLACED, READINGS, REJOINS, SEAM_EVENTS, SHOE_TIES, SPLICES, WELD_PROCEDURES, WELDS, type RecordKind,
} from './record-kinds.js';

type AsKnownAt = string | null;

/** From the record of a recall to everything on record that follows from it. */
@Injectable()
export class ConcernedRecords {
  constructor(
    private readonly finder: RecordFinder,
    private readonly strips: ConcernedStrips,
    private readonly models: LengthModels,
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
        return this.ofPerson(id, asKnownAt);
      case 'splice':
        return this.ofSplice(id, asKnownAt);
      case 'counterPeriod':
        return this.ofCounterPeriod(id, asKnownAt);
      case 'nonconformance':
        return this.ofNonconformance(id, asKnownAt);
      case 'instrument':
        return this.ofInstrument(id, asKnownAt);
      case 'weldProcedure':
        return this.ofWeldProcedure(id, asKnownAt);
    }
  }

  private async ofStrip<R extends RecordVersion>(
    kind: RecordKind<R>, id: string, asKnownAt: AsKnownAt, strip: () => Promise<ConcernedStrip>,
  ): Promise<Concerned> {
    const row = await this.finder.one(kind, id, asKnownAt);
    return { ...start(kind, row), ...(await strip()), others: [] };
  }

  private async ofSplice(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const row = await this.finder.one(SPLICES, id, asKnownAt);
    return { ...start(SPLICES, row), spans: [placedSpan(SPLICES, row)], coils: [], others: [] };
  }

  private async ofPerson(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const person = await this.finder.one(PEOPLE, id, asKnownAt);
    const placed = await Promise.all(PERSONS_PLACED.map((kind) => this.placedByPerson(kind, id, asKnownAt)));
    const rejoins = await this.finder.byPerson(REJOINS, id, asKnownAt);
    const nonconformances = await this.personsNonconformances(id, asKnownAt);
    const footage = await Promise.all(nonconformances.map((row) => this.nonconformanceStrip(row, asKnownAt)));
    const others = await Promise.all(
      PERSONS_OTHERS.map(async (kind) => ({ kind: kind.kind, ...(await this.finder.namedByPerson(kind, id, asKnownAt)) })),
    );
    return {
      ...start(PEOPLE, person),
      spans: [...placed.flat(), ...(await this.rejoinSpans(rejoins, asKnownAt)), ...footage.flatMap(({ spans }) => spans)],
      coils: footage.flatMap(({ coils }) => coils),
      others: others.filter(({ total }) => total > 0),
    };
  }

  private async placedByPerson(kind: RecordKind<PlacedVersion>, id: string, asKnownAt: AsKnownAt): Promise<ConcernedSpan[]> {
    const rows = await this.finder.byPerson(kind, id, asKnownAt);
    return rows.map((row) => placedSpan(kind, row));
  }

  /** Those the person entered, and those in which the person found, contained or approved something. */
  private async personsNonconformances(id: string, asKnownAt: AsKnownAt): Promise<Nonconformance[]> {
    const named = "(found->>'by' = $1::text or containment->>'by' = $1::text or disposition->>'approvedBy' = $1::text)";
    const [entered, namedIn] = await Promise.all([
      this.finder.byPerson(NONCONFORMANCES, id, asKnownAt),
      this.finder.where(NONCONFORMANCES, { sql: named, parameters: [id] }, asKnownAt),
    ]);
    return [...new Map([...entered, ...namedIn].map((row) => [row.id, row])).values()];
  }

  /** A re-join weld is the last millimetre before the gap it closed and the first one after it. */
  private async rejoinSpans(rejoins: readonly Rejoin[], asKnownAt: AsKnownAt): Promise<ConcernedSpan[]> {
    const ids = rejoins.map(({ cutOutId }) => cutOutId);
    const cutOuts = await this.finder.where(CUT_OUTS, { sql: 'id = any($1::uuid[])', parameters: [ids] }, asKnownAt);
    return rejoins.flatMap((rejoin) => {
      const cutOut = cutOuts.find(({ id }) => id === rejoin.cutOutId);
      if (cutOut === undefined) return [];
      const { span: { fromMm, toMm }, fromUMm, toUMm, stringId } = cutOut;
      const [uFrom, uTo] = [Number(fromUMm), Number(toUMm)];
      const record = linkOf(REJOINS, rejoin);
      const before = { fromMm: fromMm - 1, toMm: fromMm, uFromMm: uFrom, uToMm: uFrom };
      const after = { fromMm: toMm, toMm: toMm + 1, uFromMm: uTo, uToMm: uTo };
      return (fromMm > 0 ? [before, after] : [after]).map((span) => ({ record, stringId, span }));
    });
  }

  private async ofNonconformance(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const row = await this.finder.one(NONCONFORMANCES, id, asKnownAt);
    return { ...start(NONCONFORMANCES, row), ...(await this.nonconformanceStrip(row, asKnownAt)), others: [] };
  }

  private async nonconformanceStrip(row: Nonconformance, asKnownAt: AsKnownAt): Promise<ConcernedStrip> {
    const strip = await this.strips.ofParts(row.coilExtents, asKnownAt);
    const { stringId } = row;
    if (stringId === null || row.given.length === 0) return strip;
    const { line } = await this.models.of(stringId, asKnownAt);
    const own = row.given.map((given): ConcernedSpan => {
      const { span, fromUMm, toUMm } = line.placed(given, row.observedAt);
      return { ...start(NONCONFORMANCES, row), stringId, span: { ...span, uFromMm: Number(fromUMm), uToMm: Number(toUMm) } };
    });
    return { ...strip, spans: [...own, ...strip.spans] };
  }

  /** What was measured with it, itself and with what was calibrated against it; the coils measured when they came in, whole. */
  private async ofInstrument(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const row = await this.finder.one(INSTRUMENTS, id, asKnownAt);
    const calibrated = await this.finder.where(CALIBRATIONS, { sql: 'reference_instrument_id = $1', parameters: [id] }, asKnownAt);
    const ids = [id, ...calibrated.map(({ instrumentId }) => instrumentId)];
    const used = { sql: 'instrument_id = any($1::uuid[])', parameters: [ids] };
    const read = { sql: 'readings @> any($1::jsonb[])', parameters: [ids.map((instrumentId) => JSON.stringify([{ instrumentId }]))] };
    const [inspections, checks, calibrations, welds, seamEvents] = await Promise.all([
      this.finder.where(INSPECTIONS, used, asKnownAt), this.finder.where(CHECKS, used, asKnownAt), this.finder.where(CALIBRATIONS, used, asKnownAt),
      this.finder.where(WELDS, read, asKnownAt), this.finder.where(SEAM_EVENTS, read, asKnownAt),
    ]);
    const strip = await this.strips.ofParts([...new Set(checks.map(({ coilId }) => coilId))].map(wholeCoil), asKnownAt);
    const others = [
      { kind: CHECKS.kind, ...linkList(checks.map((check) => linkOf(CHECKS, check))) },
      { kind: WELDS.kind, ...linkList(welds.map((weld) => linkOf(WELDS, weld))) },
      { kind: CALIBRATIONS.kind, ...linkList([...new Map([...calibrated, ...calibrations].map((one) => [one.id, one])).values()].map((one) => linkOf(CALIBRATIONS, one))) },
    ];
    return {
      ...start(INSTRUMENTS, row), coils: strip.coils,
      spans: [
        ...inspections.map((one) => placedSpan(INSPECTIONS, one)), ...seamEvents.map((one) => placedSpan(SEAM_EVENTS, one)), ...(await this.weldSpans(welds, asKnownAt)),
        ...strip.spans,
      ],
      others: others.filter(({ total }) => total > 0),
    };
  }

  private async ofWeldProcedure(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const row = await this.finder.one(WELD_PROCEDURES, id, asKnownAt);
    const used = { sql: 'weld_procedure_id = $1', parameters: [id] };
    const [welds, seamEvents] = await Promise.all([this.finder.where(WELDS, used, asKnownAt), this.finder.where(SEAM_EVENTS, used, asKnownAt)]);
    const others = [{ kind: WELDS.kind, ...linkList(welds.map((weld) => linkOf(WELDS, weld))) }];
    const spans = [...seamEvents.map((one) => placedSpan(SEAM_EVENTS, one)), ...(await this.weldSpans(welds, asKnownAt))];
    return { ...start(WELD_PROCEDURES, row), spans, coils: [], others: others.filter(({ total }) => total > 0) };
  }

  /** The splices and re-joins that some welds made. */
  private async weldSpans(welds: readonly Weld[], asKnownAt: AsKnownAt): Promise<ConcernedSpan[]> {
    const named = (ids: readonly (string | null)[]) => ({ sql: 'id = any($1::uuid[])', parameters: [[...new Set(ids.filter((id) => id !== null))]] });
    const [splices, rejoins] = await Promise.all([
      this.finder.where(SPLICES, named(welds.map(({ spliceId }) => spliceId)), asKnownAt), this.finder.where(REJOINS, named(welds.map(({ rejoinId }) => rejoinId)), asKnownAt),
    ]);
    return [...splices.map((splice) => placedSpan(SPLICES, splice)), ...(await this.rejoinSpans(rejoins, asKnownAt))];
  }

  private async ofCounterPeriod(id: string, asKnownAt: AsKnownAt): Promise<Concerned> {
    const row = await this.finder.one(COUNTER_PERIODS, id, asKnownAt);
    const model = await this.models.of(row.stringId, asKnownAt);
    const resting = await Promise.all(
      PLACED.map(async (kind) => (await this.finder.restingOn(kind, id, asKnownAt)).map((one) => placedSpan(kind, one))),
    );
    const nonconformances = await this.finder.restingOn(NONCONFORMANCES, id, asKnownAt);
    const extents = await Promise.all(nonconformances.map((one) => this.nonconformanceStrip({ ...one, coilExtents: [] }, asKnownAt)));
    const ties = await this.finder.restingOn(SHOE_TIES, id, asKnownAt);
    const read = { sql: 'string_id = $1 and counter = $2 and observed_at <@ tstzrange($3, $4)', parameters: [row.stringId, row.counter, row.during.from, row.during.until] };
    const readings = await this.finder.named(READINGS, read, asKnownAt);
    const others = [
      { kind: SHOE_TIES.kind, ...linkList(ties.map((tie) => linkOf(SHOE_TIES, tie))) },
      { kind: READINGS.kind, ...readings },
    ];
    return {
      ...start(COUNTER_PERIODS, row),
      spans: [...madeIn(row, model), ...resting.flat(), ...extents.flatMap(({ spans }) => spans)],
      coils: [],
      others: others.filter(({ total }) => total > 0),
    };
  }
}

/** The record a recall starts at. */
function start<R extends RecordVersion>(kind: RecordKind<R>, row: R): Pick<Concerned, 'record' | 'isVoid'> {
  return { record: linkOf(kind, row), isVoid: row.state === 'void' };
}

const wholeCoil = (coilId: string): { coilId: string; stripFromMm: null; stripToMm: null } =>
  ({ coilId, stripFromMm: null, stripToMm: null });

function placedSpan<R extends PlacedVersion>(kind: RecordKind<R>, row: R): ConcernedSpan {
  const { stringId, span, fromUMm, toUMm } = row;
  return { ...start(kind, row), stringId, span: { ...span, uFromMm: Number(fromUMm), uToMm: Number(toUMm) } };
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
  return span === null ? [] : [{ record: linkOf(COUNTER_PERIODS, row), stringId: row.stringId, span }];
}
