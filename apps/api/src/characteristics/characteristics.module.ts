import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { CoilsModule } from '../coils/coils.module.js';
import { IncomingChecksModule } from '../incoming-checks/incoming-checks.module.js';
import { InspectionRunsModule } from '../inspection-runs/inspection-runs.module.js';
import { LineModule } from '../line/line.module.js';
import { ReferenceChecksModule } from '../reference-checks/reference-checks.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { SeamEventsModule } from '../seam-events/seam-events.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { SignalMarksModule } from '../signal-marks/signal-marks.module.js';
import { SignalsModule } from '../signals/signals.module.js';
import { SpliceStepsModule } from '../splice-steps/splice-steps.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import type { CharacteristicSource } from './characteristic-source.js';
import { CHARACTERISTIC_SOURCES, CharacteristicSources } from './characteristic-sources.service.js';
import { ChartGrounds } from './chart-grounds.service.js';
import { ChartRows } from './chart-rows.service.js';
import { ChannelReadings } from './sources/channel.source.js';
import { CoilReadings } from './sources/coil-reading.source.js';
import { SpliceReadings } from './sources/splice-reading.source.js';

const SOURCES = [ChannelReadings, CoilReadings, SpliceReadings];

/** What can be charted along the pipe: the readings of each characteristic, put together into the points of a chart. */
@Module({
  imports: [
    ChannelsModule, CoilsModule, CoilSegmentsModule, IncomingChecksModule, InspectionRunsModule, LineModule, ReferenceChecksModule, RejoinsModule, SeamEventsModule,
    SignalMarksModule, SignalsModule, SpliceStepsModule, SplicesModule,
  ],
  providers: [...SOURCES, { provide: CHARACTERISTIC_SOURCES, useFactory: (...sources: CharacteristicSource[]) => sources, inject: SOURCES }, CharacteristicSources, ChartGrounds, ChartRows],
  exports: [CharacteristicSources, ChartGrounds, ChartRows],
})
export class CharacteristicsModule {}
