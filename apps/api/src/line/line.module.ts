import { Module } from '@nestjs/common';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { CounterPeriodsController } from './counter-periods.controller.js';
import { CounterPeriodsService } from './counter-periods.service.js';
import { CounterReadingsController } from './counter-readings.controller.js';
import { CounterReadingsService } from './counter-readings.service.js';
import { CutOutsController } from './cut-outs.controller.js';
import { CutOutsService } from './cut-outs.service.js';
import { HangOffsController } from './hang-offs.controller.js';
import { HangOffsService } from './hang-offs.service.js';
import { LengthModels } from './length-models.service.js';
import { LineSetupsController } from './line-setups.controller.js';
import { LineSetupsService } from './line-setups.service.js';
import { Places } from './places.service.js';
import { ShoeTiesController } from './shoe-ties.controller.js';
import { ShoeTiesService } from './shoe-ties.service.js';

const SERVICES = [
  Places, LengthModels, LineSetupsService, CounterPeriodsService, CounterReadingsService, HangOffsService,
  ShoeTiesService, CutOutsService,
];

/** What the line measured, and the lengths and positions that follow from it. */
@Module({
  imports: [CasingStringsModule],
  controllers: [
    LineSetupsController, CounterPeriodsController, CounterReadingsController, HangOffsController, ShoeTiesController,
    CutOutsController,
  ],
  providers: SERVICES,
  exports: SERVICES,
})
export class LineModule {}
