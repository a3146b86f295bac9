import { Module } from '@nestjs/common';
import { ClockSources } from './clock-sources.js';

/** Where what knows open things adds itself. */
@Module({ providers: [ClockSources], exports: [ClockSources] })
export class ClockSourcesModule {}
