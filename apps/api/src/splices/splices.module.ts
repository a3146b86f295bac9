import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { LineModule } from '../line/line.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { SplicesController } from './splices.controller.js';
import { SplicesService } from './splices.service.js';

@Module({
  imports: [CoilsModule, CoilSegmentsModule, LineModule],
  controllers: [SplicesController],
  providers: [SplicesService],
  exports: [SplicesService],
})
export class SplicesModule {}
