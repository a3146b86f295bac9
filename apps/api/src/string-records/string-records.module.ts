import { Module } from '@nestjs/common';
import { AboutRecords } from './about-records.service.js';
import { KnownChanges } from './known-changes.service.js';
import { WorkDone } from './work-done.service.js';

const SERVICES = [AboutRecords, KnownChanges, WorkDone];

/** The records of a string, whatever their kind. */
@Module({ providers: SERVICES, exports: SERVICES })
export class StringRecordsModule {}
