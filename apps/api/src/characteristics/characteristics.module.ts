import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { CoilsModule } from '../coils/coils.module.js';
import { DetectionsModule } from '../detections/detections.module.js';
import { IncomingChecksModule } from '../incoming-checks/incoming-checks.module.js';
import { IndicationsModule } from '../indications/indications.module.js';
import { InspectionRunsModule } from '../inspection-runs/inspection-runs.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { LineModule } from '../line/line.module.js';
import { ReferenceChecksModule } from '../reference-checks/reference-checks.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { RepairsModule } from '../repairs/repairs.module.js';
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
import { MetresBetweenIndications } from './sources/between-indications.source.js';
import { ChannelReadings } from './sources/channel.source.js';
import { CoilReadings } from './sources/coil-reading.source.js';
import { CounterRatios } from './sources/counter-ratio.source.js';
import { IndicationCounts } from './sources/indications.source.js';
import { InspectedValues } from './sources/inspected.source.js';
import { ReferenceAmplitudes } from './sources/reference-amplitude.source.js';
import { RejectedInspections } from './sources/rejected-inspections.source.js';
import { RepairCounts } from './sources/repairs.source.js';
import { SpliceReadings } from './sources/splice-reading.source.js';
import { UnlookedPipe } from './unlooked-pipe.service.js';

const SOURCES = [
  ChannelReadings,
  CoilReadings,
  CounterRatios,
  IndicationCounts,
  InspectedValues,
  MetresBetweenIndications,
  ReferenceAmplitudes,
  RejectedInspections,
  RepairCounts,
  SpliceReadings,
];

/** What can be charted along the pipe: the readings of each characteristic, put together into the points of a chart. */
@Module({
  imports: [
    ChannelsModule, CoilsModule, CoilSegmentsModule, DetectionsModule, IncomingChecksModule, IndicationsModule, InspectionRunsModule, InspectionsModule, LineModule, ReferenceChecksModule, RejoinsModule,
    RepairsModule, SeamEventsModule, SignalMarksModule, SignalsModule, SpliceStepsModule, SplicesModule,
  ],
  providers: [...SOURCES, { provide: CHARACTERISTIC_SOURCES, useFactory: (...sources: CharacteristicSource[]) => sources, inject: SOURCES }, CharacteristicSources, ChartGrounds, ChartRows, UnlookedPipe],
  exports: [CharacteristicSources, ChartGrounds, ChartRows],
})
export class CharacteristicsModule {}
