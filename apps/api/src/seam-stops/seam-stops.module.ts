import { Module } from '@nestjs/common';
import { LineModule } from '../line/line.module.js';
import { SeamEventsModule } from '../seam-events/seam-events.module.js';
import { SeamStopsController } from './seam-stops.controller.js';
import { SeamStops } from './seam-stops.service.js';

/** What each stop of the seam weld affected. */
@Module({ imports: [LineModule, SeamEventsModule], controllers: [SeamStopsController], providers: [SeamStops] })
export class SeamStopsModule {}
