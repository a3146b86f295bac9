import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { LineModule } from '../line/line.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { SpliceStepsModule } from '../splice-steps/splice-steps.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { SpliceArrivalsController } from './splice-arrivals.controller.js';
import { SpliceArrivals } from './splice-arrivals.service.js';

/** Predicted, then confirmed: the splices of a string along the line. */
@Module({
  imports: [CoilsModule, CoilSegmentsModule, LineModule, SpliceStepsModule, SplicesModule],
  controllers: [SpliceArrivalsController],
  providers: [SpliceArrivals],
  exports: [SpliceArrivals],
})
export class SpliceArrivalsModule {}
