import { Module } from '@nestjs/common';
import { LineModule } from '../line/line.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { TraceModule } from '../trace/trace.module.js';
import { ReconciliationController } from './reconciliation.controller.js';
import { ReconciliationService } from './reconciliation.service.js';

/** The independent lengths of a string's pipe, held against one another. */
@Module({
  imports: [LineModule, CoilSegmentsModule, TraceModule],
  controllers: [ReconciliationController],
  providers: [ReconciliationService],
})
export class ReconciliationModule {}
