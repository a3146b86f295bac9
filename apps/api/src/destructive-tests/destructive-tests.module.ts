import { Module } from '@nestjs/common';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { TestSamplesModule } from '../test-samples/test-samples.module.js';
import { DestructiveTestsController } from './destructive-tests.controller.js';
import { DestructiveTestsService } from './destructive-tests.service.js';

@Module({
  imports: [CoilSegmentsModule, TestSamplesModule],
  controllers: [DestructiveTestsController],
  providers: [DestructiveTestsService],
  exports: [DestructiveTestsService],
})
export class DestructiveTestsModule {}
