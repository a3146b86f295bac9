import { Module } from '@nestjs/common';
import { SignalMarksModule } from '../signal-marks/signal-marks.module.js';
import { SignalsModule } from '../signals/signals.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { ChannelWatchController } from './channel-watch.controller.js';
import { ChannelWatches } from './channel-watch.service.js';
import { WatchedStretches } from './watched-stretches.service.js';

/** Where channels look as if they had been blind. */
@Module({ imports: [SignalMarksModule, SignalsModule, SplicesModule], controllers: [ChannelWatchController], providers: [ChannelWatches, WatchedStretches] })
export class ChannelWatchModule {}
