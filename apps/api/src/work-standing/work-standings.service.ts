import { Injectable } from '@nestjs/common';
import type { QualifiedEvent } from '#libs/validity';
import type { InstrumentStandingAnswer } from '../instrument-standing/instrument-standing.dto.js';
import { InstrumentStandings } from '../instrument-standing/instrument-standings.service.js';
import type { PlacedMoment } from '../qualified/moment-parameter.js';
import type { QualifiedAnswer } from '../qualified/qualified.dto.js';
import { QualifiedPeople } from '../qualified/qualified.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { siteMoment } from '../wells/site-time.js';
import { WellsService } from '../wells/wells.service.js';
import type { ReadWith } from './open-points.js';

/** What a person did, as far as a qualification has a say in it. */
export type Work = Pick<QualifiedEvent, 'method' | 'level' | 'variables'>;

/** How people and instruments stood when a piece of work on a string was done, by the local day of its well. */
@Injectable()
export class WorkStandings {
  constructor(
    private readonly qualified: QualifiedPeople,
    private readonly instruments: InstrumentStandings,
    private readonly strings: CasingStringsService,
    private readonly wells: WellsService,
  ) {}

  /** When the work was done, by the time of its site. Refuses with 404 when string or well were not known. */
  async momentOf({ stringId, observedAt }: { readonly stringId: string; readonly observedAt: string }, asKnownAt: string | null): Promise<PlacedMoment> {
    return { ...siteMoment(await this.timeZoneOf(stringId, asKnownAt), observedAt), text: observedAt };
  }

  /** The time zone of a string's well. Refuses with 404 when string or well were not known. */
  async timeZoneOf(stringId: string, asKnownAt: string | null): Promise<string> {
    const { wellId } = await this.strings.row(stringId, asKnownAt);
    return (await this.wells.row(wellId, asKnownAt)).timeZone;
  }

  /** Whether a person was qualified for the work then. Refuses with 404 when there was no such person. */
  async person(personId: string, { text, ...moment }: PlacedMoment, work: Work, asKnownAt: string | null): Promise<QualifiedAnswer> {
    return this.qualified.of(personId, { event: { ...moment, ...work }, at: text, asKnownAt });
  }

  /** Whether the instruments of some readings were good then, each once. */
  async instrumentsOf(readings: readonly Pick<ReadWith, 'instrumentId'>[], moment: PlacedMoment, asKnownAt: string | null): Promise<InstrumentStandingAnswer[]> {
    const ids = [...new Set(readings.map(({ instrumentId }) => instrumentId).filter((id) => id !== null))];
    return Promise.all(ids.map((id) => this.instruments.at(id, moment, asKnownAt)));
  }
}
