import { Module } from '@nestjs/common';
import { LineModule } from '../line/line.module.js';
import { TraceModule } from '../trace/trace.module.js';
import { WhereaboutsController } from './whereabouts.controller.js';
import { WhereaboutsService } from './whereabouts.service.js';

/** Where one metre of pipe is. */
@Module({ imports: [LineModule, TraceModule], controllers: [WhereaboutsController], providers: [WhereaboutsService] })
export class WhereaboutsModule {}
