import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { InspectionRunsModule } from '../inspection-runs/inspection-runs.module.js';
import { LineModule } from '../line/line.module.js';
import { ReferenceChecksModule } from '../reference-checks/reference-checks.module.js';
import { SignalMarksModule } from '../signal-marks/signal-marks.module.js';
import { SignalsModule } from '../signals/signals.module.js';
import { LineEventsController } from './line-events.controller.js';
import { LineEvents } from './line-events.service.js';

/** Stops, reversals, speeds and the upper end of the pipe, as the line's counter and channels tell of them. */
@Module({
  imports: [ChannelsModule, InspectionRunsModule, LineModule, ReferenceChecksModule, SignalMarksModule, SignalsModule], controllers: [LineEventsController], providers: [LineEvents],
})
export class LineEventsModule {}
