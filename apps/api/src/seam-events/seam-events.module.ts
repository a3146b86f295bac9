import { Module } from '@nestjs/common';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { LineModule } from '../line/line.module.js';
import { WeldProceduresModule } from '../weld-procedures/weld-procedures.module.js';
import { SeamEventsController } from './seam-events.controller.js';
import { SeamEventsService } from './seam-events.service.js';

@Module({
  imports: [InstrumentsModule, LineModule, WeldProceduresModule],
  controllers: [SeamEventsController],
  providers: [SeamEventsService],
  exports: [SeamEventsService],
})
export class SeamEventsModule {}
