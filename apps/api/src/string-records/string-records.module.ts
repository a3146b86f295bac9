import { Module } from '@nestjs/common';
import { AboutRecords } from './about-records.service.js';

const SERVICES = [AboutRecords];

/** The records of a string, whatever their kind. */
@Module({ providers: SERVICES, exports: SERVICES })
export class StringRecordsModule {}
