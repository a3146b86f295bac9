import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { INFERENCE_CAUTION } from '#libs/tube-tests';
import { CoilsService } from '../coils/coils.service.js';
import { TEST_KINDS } from '../destructive-tests/destructive-test.dto.js';
import { DestructiveTestsService } from '../destructive-tests/destructive-tests.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { TestSamplesService } from '../test-samples/test-samples.service.js';
import { linkTo } from '../trace/record-link.js';
import { coilPipes } from './coil-pipes.js';
import type { DestructiveCoverageAnswer } from './destructive-coverage.dto.js';
import { layoutOf, placeOf } from './sample-places.js';
import { PLAN_CAUTION } from './sampling-plans.js';
import { metres, testCoverage, type CoveredString } from './test-coverage.js';

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
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when there was no such string. */
  async of(stringId: string, asKnownAt: string | null): Promise<DestructiveCoverageAnswer> {
    const row = await this.strings.row(stringId, asKnownAt);
    const [string, tests] = await Promise.all([this.covered(stringId, asKnownAt), this.tests.ofString(stringId, asKnownAt)]);
    const tested = new Set(tests.map(({ testSampleId }) => testSampleId));
    return {
      string: linkTo('casing-string', row, row.name),
      asKnownAt,
      pipe: metres(string.pipe),
      tests: TEST_KINDS.map((kind) => testCoverage(kind, string, tests)),
      untested: string.samples.filter(({ sample }) => !tested.has(sample.id)).map(({ sample }) => linkTo('test-sample', sample, sample.number)),
      inference: INFERENCE_CAUTION,
      caution: PLAN_CAUTION,
    };
  }

  private async covered(stringId: string, asKnownAt: string | null): Promise<CoveredString> {
    const [segments, splices, cutOuts, samples] = await Promise.all([
      this.segments.ofString(stringId, asKnownAt), this.splices.ofString(stringId, asKnownAt), this.cutOuts.ofString(stringId, asKnownAt),
      this.samples.ofString(stringId, asKnownAt),
    ]);
    const coilIds = [...segments.map(({ coilId }) => coilId), ...samples.map(({ coilId }) => coilId).filter((id) => id !== null)];
    const coils = await this.coils.rowsByIds(coilIds, asKnownAt);
    const coilNumbers = new Map([...coils.values()].map(({ id, number }) => [id, number]));
    const stretches = coilPipes(segments, coilNumbers);
    const known = { stretches, splices: new Map(splices.map((splice) => [splice.id, splice])), coilNumbers };
    const placed = samples.map((sample) => ({ sample, place: placeOf(sample, known) }));
    const cutOut = IntervalSet.from(cutOuts.map(({ span }) => span));
    return { layout: layoutOf(stretches, placed), cutOut, pipe: IntervalSet.from(stretches.map(({ pipe }) => pipe)).subtract(cutOut), samples: placed };
  }
}
