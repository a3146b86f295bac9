import { Injectable } from '@nestjs/common';
import { ChannelsService } from '../../channels/channels.service.js';
import { DetectionsService } from '../../detections/detections.service.js';
import { LookedPipe } from '../../detections/looked-pipe.service.js';
import { OpenIndications } from '../../indication-standing/open-indications.service.js';
import { CHANNELS, DETECTIONS, INDICATION_EVALUATIONS, INDICATION_RULES, INDICATIONS, INSPECTION_RUNS, SIGNAL_MARKS } from '../../recall/record-kinds.js';
import { SignalMarksService } from '../../signal-marks/signal-marks.service.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import type { RecordTestimony } from '../record-testimony.js';
import { lookedWords, movedWords, openIndicationWords } from './indications-settled.js';
import { spoken } from './word-on-pipe.js';

/** The pipe was looked at for indications, and each that was found is settled. */
@Injectable()
export class IndicationsSettled implements EvidenceSource {
  readonly demands = 'indications-settled';
  readonly restsOn = [INDICATIONS, INDICATION_EVALUATIONS, DETECTIONS, INDICATION_RULES, CHANNELS, INSPECTION_RUNS, SIGNAL_MARKS];
  /** A detection looked at the samples that were there when it ran: later ones change nothing of it. */
  readonly restsOnSamples = false;

  constructor(
    private readonly indications: OpenIndications,
    private readonly detections: DetectionsService,
    private readonly looked: LookedPipe,
    private readonly channels: ChannelsService,
    private readonly marks: SignalMarksService,
  ) {}

  async testimonies({ stringId, asKnownAt, onTimeFrom }: EvidenceGround): Promise<RecordTestimony[]> {
    const [open, detections, channels, marks] = await Promise.all([
      this.indications.open(stringId, asKnownAt), this.detections.seenOn(stringId, asKnownAt), this.channels.onString(stringId, asKnownAt), this.marks.ofString(stringId, asKnownAt),
    ]);
    const looked = await this.looked.asTheyLie(stringId, detections, asKnownAt);
    return spoken([...openIndicationWords(open), ...lookedWords(looked, channels, marks), ...movedWords(looked)], onTimeFrom);
  }
}
