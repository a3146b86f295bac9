import { Module } from '@nestjs/common';
import { DestructiveTestsModule } from '../destructive-tests/destructive-tests.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { TestSamplesModule } from '../test-samples/test-samples.module.js';
import { DestructiveTestChecksController } from './destructive-test-checks.controller.js';
import { DestructiveTestChecks } from './destructive-test-checks.service.js';

/** Destructive tests beside what is demanded of them. */
@Module({
  imports: [CasingStringsModule, DestructiveTestsModule, TestSamplesModule],
  controllers: [DestructiveTestChecksController],
  providers: [DestructiveTestChecks],
})
export class DestructiveTestChecksModule {}
