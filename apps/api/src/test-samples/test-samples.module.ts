import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { SeamEventsModule } from '../seam-events/seam-events.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { TestSamplesController } from './test-samples.controller.js';
import { TestSamplesService } from './test-samples.service.js';

@Module({
  imports: [CasingStringsModule, CoilsModule, SeamEventsModule, SplicesModule],
  controllers: [TestSamplesController],
  providers: [TestSamplesService],
  exports: [TestSamplesService],
})
export class TestSamplesModule {}
