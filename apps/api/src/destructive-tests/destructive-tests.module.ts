import { Module } from '@nestjs/common';
import { TestSamplesModule } from '../test-samples/test-samples.module.js';
import { DestructiveTestsController } from './destructive-tests.controller.js';
import { DestructiveTestsService } from './destructive-tests.service.js';

@Module({
  imports: [TestSamplesModule],
  controllers: [DestructiveTestsController],
  providers: [DestructiveTestsService],
  exports: [DestructiveTestsService],
})
export class DestructiveTestsModule {}
