import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { InspectionRunsModule } from '../inspection-runs/inspection-runs.module.js';
import { LineModule } from '../line/line.module.js';
import { EnvelopeViews } from './envelope-views.service.js';
import { PartPacker } from './part-packer.js';
import { SignalBlocks } from './signal-blocks.js';
import { SignalDetachments } from './signal-detachments.service.js';
import { SignalDirectories } from './signal-directories.service.js';
import { SignalParts } from './signal-parts.service.js';
import { SignalStates } from './signal-states.service.js';
import { SignalStretches } from './signal-stretches.service.js';
import { SignalStrokes } from './signal-strokes.service.js';
import './signal-tables.entity.js';
import { SignalTracks } from './signal-tracks.service.js';
import { SignalUploadsController } from './signal-uploads.controller.js';
import { SignalUploads } from './signal-uploads.service.js';
import { ViewReader } from './view-reader.service.js';
import { WindowSummaries } from './window-summaries.service.js';

const READING = [EnvelopeViews, SignalBlocks, SignalDetachments, SignalStates, SignalStretches, SignalStrokes, SignalTracks, WindowSummaries];

/** Samples of the line's channels: how they come in, how they are stored, how they are found again. */
@Module({
  imports: [ChannelsModule, InspectionRunsModule, LineModule],
  controllers: [SignalUploadsController],
  providers: [PartPacker, SignalDirectories, SignalParts, SignalUploads, ViewReader, ...READING],
  exports: READING,
})
export class SignalsModule {}
