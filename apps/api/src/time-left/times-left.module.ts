import { Module } from '@nestjs/common';
import { LineModule } from '../line/line.module.js';
import { TimesLeft } from './times-left.service.js';

/** How long places on the pipe have to the hang-off. */
@Module({ imports: [LineModule], providers: [TimesLeft], exports: [TimesLeft] })
export class TimesLeftModule {}
