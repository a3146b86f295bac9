import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import type { WellPath } from '#libs/survey';
import { Refused } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { WellsService } from '../wells/wells.service.js';
import { SurveyInput, type SurveyContent } from './survey.dto.js';
import { Survey, type StationReading, type TieIn } from './survey.entity.js';
import { pathOf, problemOfPath } from './survey.rules.js';

@Injectable()
export class SurveysService extends RecordsService<Survey, SurveyInput, SurveyContent> {
  readonly kind = 'survey';
  readonly entity = Survey;
  readonly input = SurveyInput;
  protected override readonly effect = 'shows';
  protected override readonly filters = { wellId: 'well_id' };

  constructor(desk: RecordDesk, private readonly wells: WellsService) {
    super(desk);
  }

  /** The survey a well's depths go by, as known at an instant, or now: the latest one standing. Null when there is none. */
  async activeFor(wellId: string, asKnownAt: string | null): Promise<Survey | null> {
    const rows = await this.desk.store.select(
      this.entity, "well_id = $1 and state = 'active'", [wellId], asKnownAt, 'order by observed_at desc, id desc limit 1',
    );
    return rows[0] ?? null;
  }

  /** The path of the hole by a survey that was taken. */
  wellPathOf(survey: Survey): WellPath {
    return pathOf(survey);
  }

  protected async content(tx: Transaction, input: SurveyInput, current: Survey | null): Promise<Content<Survey>> {
    if (input.wellId !== current?.wellId) await this.wells.named(tx, 'wellId', input.wellId);
    const readings = { stations: input.stations.map(stationOf), tieIn: tieInOf(input.tieIn ?? {}) };
    const problem = problemOfPath(readings);
    if (problem !== null) throw new Refused(422, 'no-path', 'The stations cannot be the path of a hole.', [problem]);
    return { wellId: input.wellId, ...readings, tool: input.tool, note: input.note ?? null };
  }

  protected present({ wellId, stations, tieIn, tool, note }: Survey): SurveyContent {
    return { wellId, stations: stations.map(stationOf), tieIn: tieInOf(tieIn), tool, note };
  }
}

const stationOf = ({ mdM, inclinationDeg, azimuthDeg }: StationReading): StationReading => ({ mdM, inclinationDeg, azimuthDeg });

const tieInOf = ({ northM, eastM, tvdM }: NonNullable<SurveyInput['tieIn']>): TieIn => ({
  northM: northM ?? '0',
  eastM: eastM ?? '0',
  tvdM: tvdM ?? '0',
});
