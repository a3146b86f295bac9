import { Injectable } from '@nestjs/common';
import { ChannelsService } from '../../channels/channels.service.js';
import { InspectionRunsService } from '../../inspection-runs/inspection-runs.service.js';
import { QualifiedPeople } from '../../qualified/qualified.service.js';
import { CHANNELS, INSPECTION_RUNS, QUALIFICATION_PROOFS, QUALIFICATIONS } from '../../recall/record-kinds.js';
import { SignalTracks } from '../../signals/signal-tracks.service.js';
import { siteClock } from '../../wells/site-time.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import type { RecordTestimony } from '../record-testimony.js';
import { KeptWords } from './kept-words.js';
import { peopleJudge, peopleOf, peopleWords, readBy, runWords, type PeopleKnown, type ReadByRun } from './people-valid.js';
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
    private readonly records: GroundRecords,
  ) {}

  async testimonies(ground: EvidenceGround): Promise<RecordTestimony[]> {
    const [work, runs, timeZone] = await Promise.all([this.work.of(ground), this.read(ground), this.records.timeZone(ground)]);
    const judged = await this.qualified.judgedOf(peopleOf(work, runs), ground.asKnownAt);
    const { judge, said } = this.words.of(ground, () => JSON.stringify([timeZone, ...judged]), () => ({ judge: peopleJudge(judged), momentOf: siteClock(timeZone) }));
    return [...work.flatMap(said), ...spoken(runWords(runs, judge), ground.onTimeFrom)];
  }

  private readonly words = new KeptWords((piece, judge: PeopleKnown) => peopleWords([piece], judge));

  /** What channels with a method read; a channel of the process alone asks for no qualification. */
  private async read({ stringId, asKnownAt }: EvidenceGround): Promise<ReadByRun[]> {
    const [channels, runs] = await Promise.all([this.channels.onString(stringId, asKnownAt), this.runs.onString(stringId, asKnownAt)]);
    const byId = new Map(runs.map((run) => [run.id, run]));
    const read: ReadByRun[] = [];
    for (const channel of channels.filter(({ method }) => method !== null)) read.push(...readBy(channel, await this.tracks.of(stringId, channel.id, asKnownAt), byId));
    return read;
  }
}
