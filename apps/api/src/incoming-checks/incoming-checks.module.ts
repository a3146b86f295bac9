import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { StripOrdersModule } from '../orders/strip-orders.module.js';
import { StripSpecificationsModule } from '../specifications/strip-specifications.module.js';
import { IncomingChecksController } from './incoming-checks.controller.js';
import { IncomingChecksService } from './incoming-checks.service.js';

@Module({
  imports: [CoilsModule, InstrumentsModule, StripOrdersModule, StripSpecificationsModule],
  controllers: [IncomingChecksController],
  providers: [IncomingChecksService],
  exports: [IncomingChecksService],
})
export class IncomingChecksModule {}
