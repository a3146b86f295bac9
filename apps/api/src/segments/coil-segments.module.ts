import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { LineModule } from '../line/line.module.js';
import { CoilSegmentsController } from './coil-segments.controller.js';
import { CoilSegmentsService } from './coil-segments.service.js';

@Module({
  imports: [CoilsModule, LineModule],
  controllers: [CoilSegmentsController],
  providers: [CoilSegmentsService],
  exports: [CoilSegmentsService],
})
export class CoilSegmentsModule {}
