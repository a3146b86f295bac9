import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { EXAMINATIONS, INSPECTIONS, SEAM_EVENTS, STRINGS, WELD_PROCEDURES, WELLS } from '../../recall/record-kinds.js';
import { examinationLook, inspectionLook } from '../../reinspections/looks.js';
import type { SeamEvent } from '../../seam-events/seam-event.entity.js';
import { stoodAtWeldPoint } from '../../seam-stops/stop-answer.js';
import { answered } from '../../trace/answered.js';
import { WeldProceduresService } from '../../weld-procedures/weld-procedures.service.js';
import { siteMoment } from '../../wells/site-time.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import { oncePerCount } from '../once-per-ground.js';
import type { RecordTestimony } from '../record-testimony.js';
import { seamWords, stopWords, weldedSince, type StoppedAt } from './seam-parameters.js';
import { spoken, type WordOnPipe } from './word-on-pipe.js';

/** The seam was welded within its procedure, and what stood at the weld point when it stopped was looked at. */
@Injectable()
export class SeamParameters implements EvidenceSource {
  readonly demands = 'seam-parameters';
  readonly restsOn = [SEAM_EVENTS, WELD_PROCEDURES, EXAMINATIONS, INSPECTIONS, STRINGS, WELLS];
  readonly restsOnSamples = false;

  constructor(
    private readonly records: GroundRecords,
    private readonly procedures: WeldProceduresService,
  ) {}

  async testimonies(ground: EvidenceGround): Promise<RecordTestimony[]> {
    const events = await this.records.seamEvents(ground);
    const [welded, stopped] = await Promise.all([this.welded(ground), this.stopped(ground, events)]);
    return spoken([...welded, ...stopped], ground.onTimeFrom);
  }

  private readonly welded = oncePerCount([SEAM_EVENTS, WELD_PROCEDURES, STRINGS, WELLS], async (ground): Promise<WordOnPipe[]> => {
    const [events, timeZone] = await Promise.all([this.records.seamEvents(ground), this.records.timeZone(ground)]);
    const procedures = await this.procedures.rowsByIds(events.map(({ weldProcedureId }) => weldProcedureId), ground.asKnownAt);
    return weldedSince(events, ground.pipe.hull()?.toMm ?? 0).flatMap((welded) => {
      const procedure = procedures.get(welded.event.weldProcedureId);
      return procedure === undefined || welded.on.isEmpty ? [] : seamWords(welded, procedure, siteMoment(timeZone, welded.event.observedAt));
    });
  });

  private async stopped(ground: EvidenceGround, events: readonly SeamEvent[]): Promise<WordOnPipe[]> {
    const { model, cutOut } = ground;
    const stops = await answered(() => events.filter(({ event }) => event === 'stop').flatMap((event): StoppedAt[] => {
      const { possible } = stoodAtWeldPoint(model, event);
      return possible === null ? [] : [{ event, on: IntervalSet.of(possible).subtract(cutOut) }];
    }));
    const touched = IntervalSet.from(stops.flatMap(({ on }) => on.intervals));
    const [examinations, inspections] = await Promise.all([this.records.examinations(ground), this.records.inspections(ground)]);
    const isThere = ({ span }: Pick<SeamEvent, 'span'>): boolean => touched.overlaps(span);
    return stopWords(stops, [...examinations.filter(isThere).map((row) => examinationLook(row, new Map())), ...inspections.filter(isThere).map(inspectionLook)]);
  }
}
