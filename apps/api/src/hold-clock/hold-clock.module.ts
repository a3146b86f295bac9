import { Module } from '@nestjs/common';
import { IndicationStandingsModule } from '../indication-standing/indication-standings.module.js';
import { LineModule } from '../line/line.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { StringNewsModule } from '../string-news/string-news.module.js';
import { ClockSourcesModule } from './clock-sources.module.js';
import { HoldClockController } from './hold-clock.controller.js';
import { HoldClocks } from './hold-clocks.service.js';
import { LiveClocks } from './live-clocks.service.js';
import { OpenIndicationsClockSource } from './open-indications.clock-source.js';
import { OpenSplicesClockSource } from './open-splices.clock-source.js';

/** How long what is open has to the hang-off, asked and pushed. */
@Module({
  imports: [CasingStringsModule, ClockSourcesModule, IndicationStandingsModule, LineModule, SplicesModule, StringNewsModule],
  controllers: [HoldClockController],
  providers: [HoldClocks, LiveClocks, OpenIndicationsClockSource, OpenSplicesClockSource],
})
export class HoldClockModule {}
