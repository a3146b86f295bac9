import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { INFERENCE_CAUTION } from '#libs/tube-tests';
import { localDay } from '#libs/validity';
import { CoilsService } from '../coils/coils.service.js';
import { TEST_KINDS, type TestKind } from '../destructive-tests/destructive-test.dto.js';
import { DestructiveTestsService } from '../destructive-tests/destructive-tests.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import { SamplingPlanAssignmentsService } from '../sampling-plan-assignments/sampling-plan-assignments.service.js';
import { planName } from '../sampling-plans/sampling-plan.rules.js';
import type { SeamEvent } from '../seam-events/seam-event.entity.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { SplicesService } from '../splices/splices.service.js';
import type { CasingString } from '../strings/casing-string.entity.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { TestSamplesService } from '../test-samples/test-samples.service.js';
import { linkTo } from '../trace/record-link.js';
import type { RecordLink } from '../trace/trace.dto.js';
import { siteMoment } from '../wells/site-time.js';
import { WellsService } from '../wells/wells.service.js';
import { coilPipes } from './coil-pipes.js';
import type { DestructiveCoverageAnswer, PlanInForceAnswer } from './destructive-coverage.dto.js';
import { isAtPipe, placeOf } from './sample-places.js';
import { planCaution, plannedPipes, type PlannedPipe } from './sampling-plans.js';
import { stopPlaces, type StopPlace } from './stop-places.js';
import { metres, sampledPipe, standingUnits, testCoverage, unsettledUnits, type CoveredString, type StandingUnit } from './test-coverage.js';

/** Tests of one kind: of which pipe they are demanded, and how they stand. */
export interface StandingTests {
  readonly kind: TestKind;
  readonly demandedOf: IntervalSet;
  readonly units: readonly StandingUnit[];
}

/** What the destructive tests of a string stand for, and which of its metres none does. */
@Injectable()
export class DestructiveCoverages {
  constructor(
    private readonly strings: CasingStringsService,
    private readonly segments: CoilSegmentsService,
    private readonly coils: CoilsService,
    private readonly splices: SplicesService,
    private readonly cutOuts: CutOutsService,
    private readonly samples: TestSamplesService,
    private readonly tests: DestructiveTestsService,
    private readonly events: SeamEventsService,
    private readonly assignments: SamplingPlanAssignmentsService,
    private readonly wells: WellsService,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when there was no such string. */
  async of(stringId: string, asKnownAt: string | null): Promise<DestructiveCoverageAnswer> {
    const row = await this.strings.row(stringId, asKnownAt);
    const [string, tests] = await Promise.all([this.covered(row, asKnownAt), this.tests.ofString(stringId, asKnownAt)]);
    const tested = new Set(tests.map(({ testSampleId }) => testSampleId));
    return {
      string: linkTo('casing-string', row, row.name),
      asKnownAt,
      pipe: metres(string.pipe),
      plans: string.planned.map((planned) => planAnswer(planned, string.cutOut)),
      stops: string.stops.map((stop) => ({
        atMm: stop.atMm, plusMinusMm: stop.plusMinusMm, recordedBy: stop.events.map(eventLink), isOnPipe: string.planned.some(({ stretches }) => isAtPipe(stop.atMm, stretches)),
      })),
      tests: TEST_KINDS.map((kind) => testCoverage(kind, string, tests)),
      untested: string.samples.filter(({ sample }) => !tested.has(sample.id)).map(({ sample }) => linkTo('test-sample', sample, sample.number)),
      inference: INFERENCE_CAUTION,
      caution: planCaution(string.planned),
    };
  }

  /** The tests of each kind with what they stand for, by what was known at the instant asked about. Refuses with 404 when there was no such string. */
  async standing(stringId: string, asKnownAt: string | null): Promise<StandingTests[]> {
    const row = await this.strings.row(stringId, asKnownAt);
    const [string, tests] = await Promise.all([this.covered(row, asKnownAt), this.tests.ofString(stringId, asKnownAt)]);
    return TEST_KINDS.map((kind) => ({ kind, demandedOf: sampledPipe(kind, string.planned), units: standingUnits(kind, string, tests) }));
  }

  /** The tests of all kinds that are open or failed, by what was known at the instant asked about. Refuses with 404 when there was no such string. */
  async unsettled(stringId: string, asKnownAt: string | null): Promise<StandingUnit[]> {
    const row = await this.strings.row(stringId, asKnownAt);
    const [string, tests] = await Promise.all([this.covered(row, asKnownAt), this.tests.ofString(stringId, asKnownAt)]);
    return TEST_KINDS.flatMap((kind) => unsettledUnits(kind, string, tests));
  }

  private async covered({ id: stringId, wellId }: CasingString, asKnownAt: string | null): Promise<CoveredString & { readonly stops: readonly StopPlace[] }> {
    const [segments, splices, cutOuts, samples, events, assigned, { timeZone }] = await Promise.all([
      this.segments.ofString(stringId, asKnownAt), this.splices.ofString(stringId, asKnownAt), this.cutOuts.ofString(stringId, asKnownAt),
      this.samples.ofString(stringId, asKnownAt), this.events.inOrder(stringId, asKnownAt), this.assignments.ofString(stringId, asKnownAt),
      this.wells.row(wellId, asKnownAt),
    ]);
    const coilIds = [...segments.map(({ coilId }) => coilId), ...samples.map(({ coilId }) => coilId).filter((id) => id !== null)];
    const coils = await this.coils.rowsByIds(coilIds, asKnownAt);
    const coilNumbers = new Map([...coils.values()].map(({ id, number }) => [id, number]));
    const stretches = coilPipes(segments, coilNumbers);
    const stops = stopPlaces(events, samples);
    const known = { stretches, stops, splices: new Map(splices.map((splice) => [splice.id, splice])), coilNumbers };
    const cutOut = IntervalSet.from(cutOuts.map(({ span }) => span));
    const plans = { assigned, dayOf: (instant: string): string => localDay(siteMoment(timeZone, instant)) };
    return {
      plans, planned: plannedPipes(stretches, stops, plans), stops, cutOut, pipe: IntervalSet.from(stretches.map(({ pipe }) => pipe)).subtract(cutOut),
      samples: samples.map((sample) => ({ sample, place: placeOf(sample, known) })),
    };
  }
}

function planAnswer({ assigned, pipe }: PlannedPipe, cutOut: IntervalSet): PlanInForceAnswer {
  const left = metres(pipe.subtract(cutOut));
  if (assigned === null) {
    return { plan: null, assignment: null, fromDay: null, pipe: left, words: pipe.isEmpty ? 'No sampling plan is on record for this string.' : 'No sampling plan was in force when this pipe was made: the starting values apply.' };
  }
  const { plan, assignment } = assigned;
  const name = planName(plan);
  const unused = pipe.isEmpty ? '; no pipe on record was made while it was' : '';
  return {
    plan: linkTo('sampling-plan', plan, name), assignment: linkTo('sampling-plan-assignment', assignment, `from ${assignment.fromDay}`), fromDay: assignment.fromDay, pipe: left,
    words: `${name}, in force from ${assignment.fromDay}${unused}`,
  };
}

const eventLink = (event: SeamEvent): RecordLink => linkTo('seam-event', event, `${event.event} at ${event.span.fromMm} mm`);
