import { Global, Module } from '@nestjs/common';
import { DiscoveryModule } from '@nestjs/core';
import { RecordDesk } from './record-desk.js';
import { RecordReaders } from './record-readers.js';
import { StringChanges } from './string-changes.js';

/** The one way in for all records. */
@Global()
@Module({ imports: [DiscoveryModule], providers: [RecordDesk, RecordReaders, StringChanges], exports: [RecordDesk, RecordReaders, StringChanges] })
export class RecordsModule {}
