import { Module } from '@nestjs/common';
import { ReleaseRows } from './release-rows.service.js';

/** The releases on record. */
@Module({ providers: [ReleaseRows], exports: [ReleaseRows] })
export class ReleasesModule {}
