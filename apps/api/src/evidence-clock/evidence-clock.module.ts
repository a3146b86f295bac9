import { Module } from '@nestjs/common';
import { EvidenceModule } from '../evidence/evidence.module.js';
import { ClockSourcesModule } from '../hold-clock/clock-sources.module.js';
import { HeldClockSource } from './held.clock-source.js';
import { SuspectEvidenceClockSource } from './suspect-evidence.clock-source.js';
import { UnreleasedSplicesClockSource } from './unreleased-splices.clock-source.js';

/** What the evidence, holds and releases have to tell the hold clock. */
@Module({ imports: [ClockSourcesModule, EvidenceModule], providers: [HeldClockSource, SuspectEvidenceClockSource, UnreleasedSplicesClockSource] })
export class EvidenceClockModule {}
