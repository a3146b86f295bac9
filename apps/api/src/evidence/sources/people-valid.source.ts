import { Injectable } from '@nestjs/common';
import { ChannelsService } from '../../channels/channels.service.js';
import { InspectionRunsService } from '../../inspection-runs/inspection-runs.service.js';
import { QualifiedPeople } from '../../qualified/qualified.service.js';
import { CHANNELS, INSPECTION_RUNS, QUALIFICATION_PROOFS, QUALIFICATIONS } from '../../recall/record-kinds.js';
import { SignalTracks } from '../../signals/signal-tracks.service.js';
import { siteClock } from '../../wells/site-time.js';
import { WorkStandings } from '../../work-standing/work-standings.service.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import type { RecordTestimony } from '../record-testimony.js';
import { peopleJudge, peopleOf, peopleWords, readBy, runWords, type ReadByRun } from './people-valid.js';
import { StringWork, WORK_RESTS_ON } from './string-work.service.js';
import { spoken } from './word-on-pipe.js';

/** Who worked on the pipe was qualified for it, on the local day of the work. */
@Injectable()
export class PeopleValid implements EvidenceSource {
  readonly demands = 'people-valid';
  readonly restsOn = [...WORK_RESTS_ON, INSPECTION_RUNS, CHANNELS, QUALIFICATIONS, QUALIFICATION_PROOFS];
  readonly restsOnSamples = true;

  constructor(
    private readonly work: StringWork,
    private readonly channels: ChannelsService,
    private readonly runs: InspectionRunsService,
    private readonly tracks: SignalTracks,
    private readonly qualified: QualifiedPeople,
    private readonly standings: WorkStandings,
  ) {}

  async testimonies(ground: EvidenceGround): Promise<RecordTestimony[]> {
    const { stringId, asKnownAt, onTimeFrom } = ground;
    const [work, runs, timeZone] = await Promise.all([this.work.of(ground), this.read(ground), this.standings.timeZoneOf(stringId, asKnownAt)]);
    const known = { judge: peopleJudge(await this.qualified.judgedOf(peopleOf(work, runs), asKnownAt)), momentOf: siteClock(timeZone) };
    return spoken([...peopleWords(work, known), ...runWords(runs, known)], onTimeFrom);
  }

  /** What channels with a method read; a channel of the process alone asks for no qualification. */
  private async read({ stringId, asKnownAt }: EvidenceGround): Promise<ReadByRun[]> {
    const [channels, runs] = await Promise.all([this.channels.onString(stringId, asKnownAt), this.runs.onString(stringId, asKnownAt)]);
    const byId = new Map(runs.map((run) => [run.id, run]));
    const read: ReadByRun[] = [];
    for (const channel of channels.filter(({ method }) => method !== null)) read.push(...readBy(channel, await this.tracks.of(stringId, channel.id, asKnownAt), byId));
    return read;
  }
}
