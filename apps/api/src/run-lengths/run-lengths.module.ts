import { Module } from '@nestjs/common';
import { RunLengthsController } from './run-lengths.controller.js';

/** What charts and rules cost in false alarms. */
@Module({ controllers: [RunLengthsController] })
export class RunLengthsModule {}
