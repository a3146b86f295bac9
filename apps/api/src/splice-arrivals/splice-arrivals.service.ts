import { Injectable } from '@nestjs/common';
import { CoilsService } from '../coils/coils.service.js';
import { LengthModels } from '../line/length-models.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { SpliceStepsService } from '../splice-steps/splice-steps.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { answered } from '../trace/answered.js';
import { attempt } from '../trace/attempt.js';
import { linkTo } from '../trace/record-link.js';
import { arrivalOf, nextArrival } from './arrival.js';
import { countOf, findingsOf, stationCounts } from './arrival-findings.js';
import { knownString, type KnownString } from './known-string.js';
import type { SpliceArrivalAnswer, SpliceArrivalsAnswer, StringSpliceCount } from './splice-arrivals.dto.js';

const CAUTIONS = [
  'A gate says where to look; it is no proof that a splice is there, and records do not stop the line.',
  'By strip length alone the gate is as wide as the coil’s length is uncertain; crops and rests are taken as they are on record.',
  'A prediction upstream of the weld point is to be confirmed when the splice passes it.',
];

/** When and where splices were to come, came, and were seen. */
@Injectable()
export class SpliceArrivals {
  constructor(
    private readonly models: LengthModels,
    private readonly splices: SplicesService,
    private readonly segments: CoilSegmentsService,
    private readonly coils: CoilsService,
    private readonly steps: SpliceStepsService,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when the string was not known then. */
  async of(stringId: string, asKnownAt: string | null): Promise<SpliceArrivalsAnswer> {
    const known = await this.known(stringId, asKnownAt);
    return answered(() => {
      const splices = known.splices.map((_, index) => arrivalOf(known, index));
      const next = nextArrival(known);
      return {
        string: linkTo('casing-string', known.model.string, known.model.string.name), asKnownAt, weldPoint: known.reached, splices, next,
        stations: stationCounts(splices), count: countOf(known), findings: findingsOf(known, splices, next), cautions: CAUTIONS,
      };
    });
  }

  /** One splice alone, with the count of its string; in words why its lengths cannot be told. */
  async ofSplice(stringId: string, spliceId: string, asKnownAt: string | null): Promise<{ arrival: SpliceArrivalAnswer | string; count: StringSpliceCount }> {
    const known = await this.known(stringId, asKnownAt);
    const index = known.splices.findIndex(({ id }) => id === spliceId);
    if (index < 0) return { arrival: 'the splice was withdrawn', count: countOf(known) };
    const { found, why } = attempt(() => arrivalOf(known, index));
    return { arrival: found ?? why.detail, count: countOf(known) };
  }

  private async known(stringId: string, asKnownAt: string | null): Promise<KnownString> {
    const model = await this.models.of(stringId, asKnownAt);
    const [splices, segments, sightings] = await Promise.all([
      this.splices.ofString(stringId, asKnownAt), this.segments.ofString(stringId, asKnownAt), this.steps.sightingsOn(stringId, asKnownAt),
    ]);
    const coilIds = [...new Set([...segments.map(({ coilId }) => coilId), ...splices.flatMap(({ leavingCoilId, enteringCoilId }) => [leavingCoilId, enteringCoilId])])];
    const amended = splices.filter(({ version }) => version > 1).map(({ id }) => id);
    const [coils, coilSegments, firstSplices] = await Promise.all([
      this.coils.rowsByIds(coilIds, asKnownAt), this.segments.ofCoils(coilIds, asKnownAt), this.splices.firstOf(amended),
    ]);
    return knownString({ model, splices, segments, sightings, coils, coilSegments, firstSplices });
  }
}
