import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { InspectionRunsModule } from '../inspection-runs/inspection-runs.module.js';
import { LineModule } from '../line/line.module.js';
import { PartPacker } from './part-packer.js';
import { SignalBlocks } from './signal-blocks.js';
import { SignalDirectories } from './signal-directories.service.js';
import { SignalParts } from './signal-parts.service.js';
import './signal-tables.entity.js';
import { SignalUploadsController } from './signal-uploads.controller.js';
import { SignalUploads } from './signal-uploads.service.js';

/** Samples of the line's channels: how they come in, how they are stored, how they are found again. */
@Module({
  imports: [ChannelsModule, InspectionRunsModule, LineModule],
  controllers: [SignalUploadsController],
  providers: [PartPacker, SignalBlocks, SignalDirectories, SignalParts, SignalUploads],
})
export class SignalsModule {}
